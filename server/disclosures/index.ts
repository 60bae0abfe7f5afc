export { type ExportNote, listPastExports, noteExport, type PastExport } from './notes.ts';
