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

/**
 * Is this, whatever kind it is of, of the kind named? Narrows benches, definitions, briefs and views. Any two names.
 * Never throws. Source: none needed, a comparison of names.
 */
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
 * Draws a bench: object, dial, set-up and hidden condition. The same definition and seed (any text or number) always give the same
 * bench. Lengths inside are millimetres, limits stay in the unit the definition gives. Source: the shares and sizes of what is hidden stand
 * with each kind; most are common practice, no source.
 * @throws RangeError for an unknown kind or a definition that cannot be built.
 */
export function generateBench<K extends KindName>(
  definition: Named<K, DefinitionOf<K>>,
  seed: string | number,
): BenchOf<K> {
  return kindOf<K>(definition.kind).generate(definition, seed);
}

/** The bench as the student finds it; what its parts and units are is each kind's own. Never throws. Source: the kind's own. */
export function startBench<K extends KindName>(bench: Named<K, BenchOf<K>>): StateOf<K> {
  return kindOf<K>(bench.kind).start(bench);
}

/**
 * One action: the next state, and what the student perceives of it. Degrees are of crank or of the work, clockwise facing the front
 * positive; turns are of the pointer; a pointer is in graduations of the face. The state given is left alone. Never throws: what cannot be
 * done is perceived as `cannot`. Source: the physics of each kind, said where it stands.
 */
export function actOn<K extends KindName>(
  bench: Named<K, BenchOf<K>>,
  state: StateOf<K>,
  action: ActionOf<K>,
): { state: StateOf<K>; seen: SeenOf<K> } {
  return kindOf<K>(bench.kind).act(bench, state, action);
}

/** What a person standing at the bench sees without doing anything; units as in `act`. Never throws. Source: as for `act`. */
export function lookAt<K extends KindName>(bench: Named<K, BenchOf<K>>, state: StateOf<K>): ViewOf<K> {
  return kindOf<K>(bench.kind).look(bench, state);
}

/** What may be told of a bench before it is graded: plate, face of the gauge, specification in its own unit. Never throws. Source: the bench. */
export function briefOfBench<K extends KindName>(bench: Named<K, BenchOf<K>>): BriefOf<K> {
  return kindOf<K>(bench.kind).brief(bench);
}

/**
 * Grades an attempt: points by criterion, stops, remarks as codes with values, mistakes named, the truth of each lobe or item,
 * and the trace for the replay. A pure function of its arguments. Points are out of 100; written lengths are in the dial's unit, null for a
 * blank box. Never throws for a student's log or sheet, however odd. Source: points and shares are common practice, no source; verdicts by
 * ISO 14253-1 and JCGM 106 as in `judge`.
 */
export function gradeAttempt<K extends KindName>(
  bench: Named<K, BenchOf<K>>,
  actions: readonly ActionOf<K>[],
  sheet: SheetOf<K>,
): Grade {
  return kindOf<K>(bench.kind).grade(bench, actions, sheet);
}
