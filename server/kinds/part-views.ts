import type { Problems } from '../web/forms.ts';
import type { Typed } from './boxes.ts';
import type { Box, BoxSet, SheetPart } from './types.ts';

/** A box of the lab sheet as views/parts/field.eta draws it. */
export interface BoxView {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly problem: string | undefined;
  readonly unit?: string;
  readonly hint: string | undefined;
  readonly type?: 'select';
  readonly options?: readonly { readonly value: string; readonly text: string }[];
  readonly attrs?: Readonly<Record<string, string>>;
}

/** A part of a sheet as views/parts/sheet-part.eta draws it. */
export interface PartView {
  readonly id: string;
  readonly title: string;
  readonly short: string;
  readonly sets: readonly {
    readonly legend: string | null;
    readonly folded: string | undefined;
    readonly open: boolean;
    readonly table: BoxSet<unknown>['table'];
    readonly boxes: readonly BoxView[];
  }[];
}

/** The parts of a sheet with what is typed and what is wrong with it. */
export function partViews<A>(form: readonly SheetPart<A>[], typed: Typed, problems: Problems): PartView[] {
  return form.map(({ id, title, short, sets }) => ({
    id,
    title,
    short,
    sets: sets.map(({ legend, folded, table, boxes }) => {
      const views = boxes.map((box) => boxView(box, typed, problems));
      return {
        legend,
        folded,
        open: views.some(({ value, problem }) => value !== '' || problem !== undefined),
        table,
        boxes: views,
      };
    }),
  }));
}

function boxView<A>(box: Box<A>, typed: Typed, problems: Problems): BoxView {
  const common = {
    name: box.name,
    label: box.label,
    value: typed[box.name] ?? '',
    problem: problems[box.name],
    hint: box.hint,
  };
  if (box.box === 'choice')
    return { ...common, type: 'select', options: [{ value: '', text: 'Choose' }, ...box.options] };
  const unit = box.box === 'list' ? undefined : box.unit;
  return {
    ...common,
    ...(unit === undefined ? {} : { unit }),
    ...(box.note === undefined ? {} : { attrs: { 'data-note': JSON.stringify(box.note) } }),
  };
}
