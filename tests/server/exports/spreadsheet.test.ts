import { execFileSync } from 'node:child_process';
import { accessSync, constants, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { spreadsheetCsv } from '../../../server/web/csv.ts';

/** LibreOffice, from Debian's package libreoffice-calc. */
const OFFICE = '/usr/bin/soffice';
const HAS_OFFICE = isThere(OFFICE);
if (!HAS_OFFICE)
  console.warn(
    `LEFT OUT: ${OFFICE} is not there (on Debian: apt-get install libreoffice-calc), so no CSV was opened in a spreadsheet program.`,
  );

function isThere(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Each would do something, or be something else, if it were taken for more than text. */
const HOSTILE = [
  '=1+1',
  '=HYPERLINK("http://x.example","click")',
  '+1+1',
  '-1+1',
  '@SUM(A1:A9)',
  '  =1+1',
  '\t=1+1',
  '\r=1+1',
  '＝1+1',
  "=cmd|' /C calc'!A0",
  '"=1+1"',
  '=1+1;=2+2',
];
const COLUMNS = ['student_number', 'family_name', 'since', 'points'];
const ROWS: (string | number)[][] = [
  ['003201', 'Żółkiewska-Dueñas', '2026-09-11T10:00:00.000Z', 98.5],
  ['000000000000000001', 'Nguyễn Thị Ánh', '2026-12-31', -12.5],
  ...HOSTILE.map((text, index) => [`00${index}`, text, '2026-01-02', index]),
];

interface SheetCell {
  readonly type: string;
  readonly formula: string | null;
  readonly text: string;
}

describe.skipIf(!HAS_OFFICE)('a CSV in LibreOffice', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'dialbench-office-'));
    writeFileSync(join(folder, 'record.csv'), spreadsheetCsv(COLUMNS, ROWS));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  /** Cells as the program itself keeps them, in its flat XML. `format` as its text import takes it: comma, double quote, UTF-8, from line 1, columns. */
  function opened(columns: string): SheetCell[][] {
    execFileSync(
      OFFICE,
      [
        `-env:UserInstallation=file://${join(folder, 'profile')}`,
        ...['--headless', `--infilter=Text - txt - csv (StarCalc):44,34,76,1,${columns}`],
        ...['--convert-to', 'fods', '--outdir', folder, join(folder, 'record.csv')],
      ],
      { stdio: 'pipe', timeout: 100_000 },
    );
    const xml = readFileSync(join(folder, 'record.fods'), 'utf8');
    return [...xml.matchAll(/<table:table-row[^>]*>([\s\S]*?)<\/table:table-row>/g)].map(([, row = '']) =>
      [...row.matchAll(/<table:table-cell([^>]*?)(?:\/>|>([\s\S]*?)<\/table:table-cell>)/g)].map(
        ([, attributes = '', inner = '']) => ({
          type: /office:value-type="(\w+)"/.exec(attributes)?.[1] ?? '',
          formula: /table:formula="([^"]*)"/.exec(attributes)?.[1] ?? null,
          text: inner
            .replaceAll(/<text:s(?: text:c="(\d+)")?\/>/g, (_, count) => ' '.repeat(Number(count ?? 1)))
            .replaceAll('<text:tab/>', '\t')
            .replaceAll(/<\/text:p>\s*<text:p>/g, '\n')
            .replaceAll(/<[^>]+>/g, '')
            .replaceAll('&quot;', '"')
            .replaceAll('&apos;', "'")
            .replaceAll('&lt;', '<')
            .replaceAll('&gt;', '>')
            .replaceAll('&amp;', '&')
            .trim(),
        }),
      ),
    );
  }

  it('shows accents, keeps the noughts before a number set to text, and reads days and figures as such', () => {
    // As the page says to open it: the first column as text (2). The fourth as the program finds it.
    const [head, first, second] = opened('1/2/2/2');
    expect(head?.map(({ text }) => text)).toEqual(COLUMNS);
    expect(first?.[0]).toMatchObject({ type: 'string', text: '003201' });
    expect(second?.[0]).toMatchObject({ type: 'string', text: '000000000000000001' });
    expect(first?.[1]?.text).toBe('Żółkiewska-Dueñas');
    expect(second?.[1]?.text).toBe('Nguyễn Thị Ánh');
    expect(second?.[2]?.type).toBe('date');
    expect(first?.[3]).toMatchObject({ type: 'float' });
    expect(second?.[3]).toMatchObject({ type: 'float' });
  });

  it.each(['', '1/2/2/2'])('lets no cell be a formula, with columns set to "%s"', (columns) => {
    const rows = opened(columns);
    expect(rows.length).toBeGreaterThanOrEqual(ROWS.length + 1);
    for (const row of rows) for (const cell of row) expect(cell.formula).toBeNull();
    const names = rows.slice(3, 3 + HOSTILE.length).map((row) => row[1]);
    for (const [index, cell] of names.entries()) {
      expect(cell?.type, HOSTILE[index]).toBe('string');
      expect(cell?.text, HOSTILE[index]).toContain(HOSTILE[index]?.trim().slice(-3));
    }
  });

  it('would see a formula if there were one', () => {
    writeFileSync(join(folder, 'record.csv'), 'a,b\r\n=1+1,x\r\n');
    const [, row] = opened('');
    expect(row?.[0]?.formula).toContain('1+1');
  });
});
