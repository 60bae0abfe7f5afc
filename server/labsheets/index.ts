export { type AssignedItem, type AssignedSheet, listAssigned } from './assigned.ts';
export { getAssignedItem, type LabSheetItem, listSectionItems } from './queries.ts';
