import type { Box, SheetPart, Typed } from '../kinds/index.ts';
import type { OwnAttempt } from './queries.ts';

/** One part of the look-over page: what is written, box by box. */
export interface LookOverPart {
  readonly id: string;
  readonly title: string;
  readonly sets: readonly {
    readonly legend: string | null;
    readonly rows: readonly { readonly label: string; readonly written: string }[];
  }[];
}

export interface LookOverPage {
  readonly title: string;
  readonly attempt: Pick<
    OwnAttempt,
    'id' | 'itemTitle' | 'sheetTitle' | 'sectionName' | 'way' | 'try_number' | 'tries'
  >;
  readonly parts: readonly LookOverPart[];
  /** Blank boxes in words, by part. */
  readonly blanks: readonly string[];
  readonly specification: readonly string[];
}

/** The sheet as it would be handed in. Folded boxes that are blank are left out, and so are blank rows of a table. */
export function lookOverParts<A>(form: readonly SheetPart<A>[], typed: Typed): LookOverPart[] {
  return form.map(({ id, title, sets }) => ({
    id,
    title,
    sets: sets
      .map(({ legend, boxes, folded, table }) => ({
        legend,
        rows: boxes
          .filter(({ name }) => (folded === undefined && table === undefined) || (typed[name] ?? '') !== '')
          .map((box) => ({ label: box.label, written: written(box, typed[box.name] ?? '') })),
      }))
      .filter(({ rows }) => rows.length > 0),
  }));
}

function written<A>(box: Box<A>, text: string): string {
  if (text === '') return '';
  if (box.box === 'choice') return box.options.find(({ value }) => value === text)?.text ?? '';
  const unit = box.box === 'list' ? undefined : box.unit;
  return unit !== undefined && /\d$/.test(text) ? `${text} ${unit}` : text;
}

/** Blank boxes said a part at a time: "Lobe 2: first reading (pointer, lift), verdict". */
export function blankWords<A>(form: readonly SheetPart<A>[], blank: readonly Box<unknown>[]): string[] {
  const names = new Set(blank.map(({ name }) => name));
  return form.flatMap(({ title, sets }) => {
    const told = sets.flatMap(({ legend, boxes }) => {
      const own = boxes
        .filter(({ name }) => names.has(name))
        .map(({ short, label }) => short ?? label.toLowerCase());
      if (own.length === 0) return [];
      return [
        legend === null || sets.length === 1 ? own.join(', ') : `${legend.toLowerCase()} (${own.join(', ')})`,
      ];
    });
    return told.length === 0 ? [] : [`${title}: ${told.join(', ')}`];
  });
}
