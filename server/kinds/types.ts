import type { z } from 'zod';
import type { ActionOf, BriefOf, Dial, KindName, SeenOf, SheetOf, ViewOf } from '../engine/index.ts';

/**
 * What the rooms need of a kind of exercise besides its engine: what can be done at the bench, what the lab sheet asks, and the words
 * for it. One file a kind and one line of `index.ts`. It knows the brief and the view, never the bench: nothing hidden passes here.
 */
export interface Desk<K extends KindName> {
  /** As it is called in a list: `Run-out`. */
  readonly title: string;
  /** An action as it may come in from a page; whether it can be done is for the engine to decide. */
  readonly action: z.ZodType<ActionOf<K>>;
  /** Name of the engine or the part, from its plate. */
  plate(brief: BriefOf<K>): string;
  /** The gauge in hand; null where there is none. */
  dial(brief: BriefOf<K>, view: ViewOf<K>): Dial | null;
  /** Limits and what else the sheet must say first, a line each. */
  specification(brief: BriefOf<K>): readonly string[];
  /** Facts for the job card besides the gauge's own. */
  facts(brief: BriefOf<K>): readonly Fact[];
  /** The order of work, a line a step. */
  orderOfWork(brief: BriefOf<K>): readonly string[];
  /** Where it can hurt on a real engine; the page adds that the maker's manual comes first. */
  readonly caution: string;
  /** Before anything was done. */
  begin(brief: BriefOf<K>): string;
  /** Always the same controls in the same order; their labels and states follow the view. */
  controls(brief: BriefOf<K>, view: ViewOf<K>): readonly ControlSet<ActionOf<K>>[];
  /** The lab sheet, in the order it is filled in. */
  form(brief: BriefOf<K>): readonly SheetPart<ActionOf<K>>[];
  /** Which part of the sheet belongs to where the student stands; null where none does. */
  partAt(brief: BriefOf<K>, view: ViewOf<K>): string | null;
  /** The sheet as the engine grades it, out of the boxes. */
  sheet(brief: BriefOf<K>, boxes: Boxes): SheetOf<K>;
  /** What is heard, felt or seen of an action; never what it means. */
  said(one: SeenOf<K>['said'][number]): string;
  /** A line of the log: what was done. */
  did(action: ActionOf<K>, brief: BriefOf<K>): string;
  /** What item `item` of a grade is: `Rim`, `Tooth 3`. */
  itemName(brief: BriefOf<K>, item: number): string;
}

export interface Fact {
  readonly term: string;
  readonly text: string;
}

/** Controls that belong together, under one legend. */
export interface ControlSet<A> {
  readonly legend: string;
  readonly controls: readonly Control<A>[];
  /** A sentence on how they are used. */
  readonly help?: string;
}

/** Something that can be done at the bench. `id` is unique among a kind's controls and never changes. */
export type Control<A> = DoControl<A> | ChooseControl<A> | PickControl<A> | AmountControl<A> | TurnControl<A>;

/** A button. */
export interface DoControl<A> {
  readonly control: 'do';
  readonly id: string;
  readonly label: string;
  readonly action: A;
  /** Where it says how things stand: is it so now? */
  readonly pressed?: boolean;
}

/** A list to choose from and a button that does it. */
export interface ChooseControl<A> {
  readonly control: 'choose';
  readonly id: string;
  readonly label: string;
  readonly button: string;
  readonly options: readonly { readonly text: string; readonly action: A }[];
  /** Place in the list of the one offered first; default 0. */
  readonly first?: number;
}

/** A list of things, and buttons for what may be done to the one chosen. */
export interface PickControl<A> {
  readonly control: 'pick';
  readonly id: string;
  readonly label: string;
  readonly things: readonly string[];
  /** What each button does to each thing, in the order of the list. */
  readonly buttons: readonly { readonly label: string; readonly actions: readonly A[] }[];
}

/** A number to type and a button that does it. */
export interface AmountControl<A> {
  readonly control: 'amount';
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly button: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** The action but for its number. */
  readonly action: A;
  /** The field of the action that takes the number. */
  readonly field: string;
}

/** Turning something by degrees: held down, by steps, by keys. The first one of a bench has the arrow keys. */
export interface TurnControl<A> {
  readonly control: 'turn';
  readonly id: string;
  readonly back: string;
  readonly forward: string;
  /** Degrees of the step buttons, without sign, rising. */
  readonly steps: readonly number[];
  /** Degrees a second held down. */
  readonly speeds: readonly { readonly perSecond: number; readonly label: string }[];
  /** The action but for its `degrees`. */
  readonly action: A;
  /** Where letting go of the bar matters: `speed` and `hold` go into the action, and there is a button to let go. */
  readonly barred?: true;
}

/** A part of the lab sheet: a lobe, a liner, the result. Parts are shown one at a time where there are several. */
export interface SheetPart<A> {
  readonly id: string;
  readonly title: string;
  /** In the list of parts: `Liner 2`. */
  readonly short: string;
  readonly sets: readonly BoxSet<A>[];
}

export interface BoxSet<A> {
  readonly legend: string | null;
  readonly boxes: readonly Box<A>[];
  /** Folded away under these words until it is asked for. */
  readonly folded?: string;
  /** Boxes lie as a table: these headings, with their unit, over the boxes of each row; and what each row is of. */
  readonly table?: { readonly columns: readonly string[]; readonly rows: readonly string[] };
}

interface AnyBox<A> {
  /** Parts of up to 24 letters, digits or hyphens with dots between, at most four. */
  readonly name: string;
  readonly label: string;
  /** In a list of what was left blank; default the label in small letters. */
  readonly short?: string;
  /** May be left blank without a word. */
  readonly optional?: true;
  readonly hint?: string;
  /** Goes into the log when it was written. */
  readonly note?: A;
}

/** A length in the dial's unit. */
export interface LengthBox<A> extends AnyBox<A> {
  readonly box: 'length';
  readonly unit: 'in' | 'mm';
  /** Largest that makes sense, either sign. */
  readonly most: number;
  /** Decimals of the example given where it cannot be read. */
  readonly decimals: number;
}

export interface NumberBox<A> extends AnyBox<A> {
  readonly box: 'number';
  readonly unit?: string;
  readonly least: number;
  readonly most: number;
  readonly whole: boolean;
  /** What to write instead, where it cannot be read. */
  readonly sentence: string;
}

export interface ChoiceBox<A> extends AnyBox<A> {
  readonly box: 'choice';
  readonly options: readonly { readonly value: string; readonly text: string }[];
}

/** Numbers in a row: `1 3 2 4`. */
export interface ListBox<A> extends AnyBox<A> {
  readonly box: 'list';
  readonly most: number;
  readonly sentence: string;
}

export type Box<A> = LengthBox<A> | NumberBox<A> | ChoiceBox<A> | ListBox<A>;

/** What the boxes hold. A blank box, and one that could not be read, is null. */
export interface Boxes {
  /** A length, or a number. */
  number(name: string): number | null;
  choice<T extends string>(name: string, of: readonly T[]): T | null;
  list(name: string): readonly number[];
}
