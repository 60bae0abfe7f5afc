/**
 * Folders and files of `server/engine/` and the tests that stand nearest to each. Whatever those tests let pass counts as survived, also where a
 * test of whole attempts would have noticed it: so the score is a lower bound, and a run takes minutes rather than a night.
 */
export const FOLDERS: Readonly<Record<string, readonly string[]>> = {
  torque: ['tests/engine/torque/**/*.test.ts', 'tests/published/published.test.ts'],
  alignment: ['tests/engine/alignment/**/*.test.ts', 'tests/published/published.test.ts'],
  decision: ['tests/engine/decision/**/*.test.ts', 'tests/published/published.test.ts'],
  uncertainty: ['tests/engine/uncertainty/**/*.test.ts', 'tests/published/published.test.ts'],
  statistics: ['tests/engine/statistics/**/*.test.ts', 'tests/published/published.test.ts'],
  learner: ['tests/engine/learners.test.ts', 'tests/published/published.test.ts'],
  'dial/read-dial.ts': ['tests/engine/read-dial.test.ts', 'tests/published/dial-readings/**/*.test.ts'],
  'dial/parse-length.ts': ['tests/engine/parse-length.test.ts'],
  'dial/certificate.ts': ['tests/engine/certificate.test.ts'],
  'dial/gauge-error.ts': ['tests/engine/certificate.test.ts', 'tests/published/jis-b7503/**/*.test.ts'],
  drive: ['tests/engine/compression.test.ts', 'tests/published/four-stroke/**/*.test.ts'],
  tappet: ['tests/engine/tappet.test.ts'],
  lobe: ['tests/engine/lobe.test.ts', 'tests/published/motion-laws/**/*.test.ts'],
  diagnosis: ['tests/engine/explain-reading.test.ts'],
  grading: [
    'tests/engine/reading-remarks.test.ts',
    'tests/engine/procedure-remarks.test.ts',
    'tests/engine/whole-sheet.test.ts',
  ],
  'bench-parts': ['tests/engine/gauged-*.test.ts'],
  'exercises/cam-lift': [
    'tests/engine/*-remarks.test.ts',
    'tests/engine/rig.test.ts',
    'tests/engine/roller.test.ts',
  ],
};

export function globOf(folder: string): string {
  return folder.endsWith('.ts') ? `server/engine/${folder}` : `server/engine/${folder}/**/*.ts`;
}

export function isIn(folder: string, file: string): boolean {
  return file === `server/engine/${folder}` || file.startsWith(`server/engine/${folder}/`);
}
