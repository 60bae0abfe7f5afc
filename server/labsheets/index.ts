export { type AssignedItem, type AssignedSheet, listAssigned } from './assigned.ts';
export {
  type Assignment,
  type AssignmentTerms,
  assignSheet,
  dueFor,
  getAssignment,
  giveExtraTime,
  listAssignments,
  listExtensions,
  listSectionsOf,
  withdrawSheet,
} from './assignments.ts';
export { camLiftOf } from './cam-lift-only.ts';
export { definitionOf } from './definition.ts';
export { dueWords } from './due-words.ts';
export { type DueRule, isClosed, lateness } from './late.ts';
export {
  type AssignedToStudent,
  findAssignedOfKind,
  getAssignedItem,
  type LabSheetItem,
  listSectionItems,
} from './queries.ts';
export {
  type Done,
  itemScore,
  partsScore,
  type SheetScore,
  sheetScore,
  type Weights,
  weighted,
} from './score.ts';
export {
  type DraftButton,
  fieldName,
  fieldsOf,
  freshItem,
  type ItemDraft,
  MOST_ITEMS,
  readDraft,
  readSheet,
  rearranged,
  type SheetDraft,
  whatWords,
} from './sheet-draft.ts';
export type { ShopStep, ShopWork } from './shop-work-settings.ts';
export type { Counts, Way } from './tables.ts';
export { furtherTriesOf, giveFurtherTry, listFurtherTries, triesFor } from './tries.ts';
export {
  copySheet,
  draftOf,
  getSheet,
  keepSheet,
  listItems as listSheetItems,
  listSheets,
  type WrittenSheet,
} from './written.ts';
