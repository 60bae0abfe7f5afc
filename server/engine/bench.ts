import { KINDS, type KindName, type KindOf, type KindParts } from './exercises/registry.ts';
import type { Grade } from './grading/types.ts';

export type { KindName } from './exercises/registry.ts';

/** A part of a kind of exercise by the kind's name; of any kind where none is named. */
export type DefinitionOf<K extends KindName> = KindParts[K]['definition'];
export type BenchOf<K extends KindName> = KindParts[K]['bench'];
export type StateOf<K extends KindName> = KindParts[K]['state'];
export type ActionOf<K extends KindName> = KindParts[K]['action'];
export type SeenOf<K extends KindName> = KindParts[K]['seen'];
export type ViewOf<K extends KindName> = KindParts[K]['view'];
export type BriefOf<K extends KindName> = KindParts[K]['brief'];
export type SheetOf<K extends KindName> = KindParts[K]['sheet'];

export type AnyDefinition = DefinitionOf<KindName>;
export type AnyBench = BenchOf<KindName>;
export type AnyState = StateOf<KindName>;
export type AnyAction = ActionOf<KindName>;
export type AnySeen = SeenOf<KindName>;
export type AnyView = ViewOf<KindName>;
export type AnyBrief = BriefOf<KindName>;
export type AnySheet = SheetOf<KindName>;

/** Something of a kind, from which the compiler takes the kind's name. */
type Named<K extends KindName, Part> = { readonly kind: K } & Part;

/** Names of the kinds there are. */
export const KIND_NAMES = Object.keys(KINDS) as readonly KindName[];

/** Is this, whatever kind it is of, of the kind named? Narrows benches, definitions, briefs and views. */
export function isKind<T extends { readonly kind: KindName }, K extends KindName>(
  named: T,
  kind: K,
): named is Extract<T, { readonly kind: K }> {
  return named.kind === kind;
}

function kindOf<K extends KindName>(name: K): KindOf<K> {
  if (!Object.hasOwn(KINDS, name)) throw new RangeError(`No kind of exercise is called "${String(name)}".`);
  // The compiler cannot see that an entry has the parts taken from that very entry.
  return KINDS[name] as unknown as KindOf<K>;
}

/**
 * Draws a bench: object, dial, set-up and hidden condition. The same definition and seed always give the same bench.
 * @throws RangeError for an unknown kind or a definition that cannot be built.
 */
export function generateBench<K extends KindName>(
  definition: Named<K, DefinitionOf<K>>,
  seed: string | number,
): BenchOf<K> {
  return kindOf<K>(definition.kind).generate(definition, seed);
}

/** The bench as the student finds it. */
export function startBench<K extends KindName>(bench: Named<K, BenchOf<K>>): StateOf<K> {
  return kindOf<K>(bench.kind).start(bench);
}

/** One action: the next state, and what the student perceives of it. The state given is left alone; it never throws for an odd action. */
export function actOn<K extends KindName>(
  bench: Named<K, BenchOf<K>>,
  state: StateOf<K>,
  action: ActionOf<K>,
): { state: StateOf<K>; seen: SeenOf<K> } {
  return kindOf<K>(bench.kind).act(bench, state, action);
}

/** What a person standing at the bench sees without doing anything. */
export function lookAt<K extends KindName>(bench: Named<K, BenchOf<K>>, state: StateOf<K>): ViewOf<K> {
  return kindOf<K>(bench.kind).look(bench, state);
}

/** What may be told of a bench before it is graded: plate, face of the gauge, specification. */
export function briefOfBench<K extends KindName>(bench: Named<K, BenchOf<K>>): BriefOf<K> {
  return kindOf<K>(bench.kind).brief(bench);
}

/**
 * Grades an attempt: points by criterion, stops, remarks as codes with values, mistakes named, the truth of each lobe or item,
 * and the trace for the replay. A pure function of its arguments.
 */
export function gradeAttempt<K extends KindName>(
  bench: Named<K, BenchOf<K>>,
  actions: readonly ActionOf<K>[],
  sheet: SheetOf<K>,
): Grade {
  return kindOf<K>(bench.kind).grade(bench, actions, sheet);
}
