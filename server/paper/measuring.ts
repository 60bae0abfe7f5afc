import { type AnyBrief, brief, generateBench, type KindName } from '../engine/index.ts';
import { DESKS, deskOf, type SheetPart } from '../kinds/index.ts';

/** Work that a sheet can be filled in for at a real engine: every kind but those that are practice alone. */
export const MEASURING_KINDS = (Object.keys(DESKS) as KindName[]).filter(
  (kind) => kind !== 'dial-reading' && kind !== 'fault-finding',
);

/** A box to be filled in by hand. */
interface PaperBox {
  readonly label: string;
  /** To tick one of; empty for a number. */
  readonly choices: readonly string[];
}

export interface MeasuringSheet {
  readonly work: string;
  readonly orderOfWork: readonly string[];
  readonly caution: string;
  readonly parts: readonly {
    readonly title: string;
    readonly sets: readonly {
      readonly legend: string | null;
      readonly table: { readonly columns: readonly string[]; readonly rows: readonly string[] } | null;
      readonly boxes: readonly PaperBox[];
    }[];
  }[];
}

/** The lab sheet of a kind of work with every box blank. Which lobe, liner or cylinder it is, is left to be written. */
export function measuringSheet(kind: KindName): MeasuringSheet {
  const plate = brief(generateBench({ kind } as never, 'blank')) as AnyBrief;
  const desk = deskOf<KindName>(kind);
  const parts = desk.form(plate) as readonly SheetPart<unknown>[];
  return {
    work: desk.title,
    orderOfWork: desk.orderOfWork(plate),
    caution: desk.caution,
    parts: parts.map(({ title, sets }) => ({
      title: title.replace(/(Lobe at position|Liner|Cylinder) \d+/, '$1 ____'),
      sets: sets.map(({ legend, folded, table, boxes }) => ({
        legend: folded === undefined ? legend : `${legend}: revolution counter`,
        table: table ?? null,
        boxes: boxes.map((box) => ({
          label: box.label,
          choices: box.box === 'choice' ? box.options.map(({ text }) => text) : [],
        })),
      })),
    })),
  };
}
