export { type AssignedItem, type AssignedSheet, listAssigned } from './assigned.ts';
export { camLiftOf } from './cam-lift-only.ts';
export { definitionOf } from './definition.ts';
export { findAssignedOfKind, getAssignedItem, type LabSheetItem, listSectionItems } from './queries.ts';
export type { Way } from './tables.ts';
