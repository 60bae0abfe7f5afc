export { camLiftOf } from './cam-lift-only.ts';
export { type AssignedItem, type AssignedSheet, listAssigned } from './assigned.ts';
export { definitionOf } from './definition.ts';
export { getAssignedItem, type LabSheetItem, listSectionItems } from './queries.ts';
