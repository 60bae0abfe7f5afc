import type { Mistake } from '../diagnosis/hypotheses.ts';
import type { Grade, NamedMistake } from '../grading/types.ts';
import type { Observation } from './knowledge-tracing.ts';
import { AGAINST, AGAINST_IN_RESULTS, ASKED_BY_A_READING, REMARKED, type Skill } from './skills.ts';

/** Off by so few graduations and for no reason that has a name, it was read carelessly. */
const CARELESS_GRADUATIONS = 6;

/**
 * What a graded attempt says of a learner's skills: for each lobe or item one observation of each skill that it asked for. What was not
 * measured, not written or cannot be told says nothing: of two mistakes that may both explain a reading neither is held against anybody.
 * Graduations are the dial's. Never throws. Source: which mistake speaks against which skill is common practice, no source.
 */
export function observationsFrom(grade: Grade): Observation[] {
  return placesOf(grade).flatMap((place) => observationsAt(grade, place));
}

interface Place {
  readonly position: number;
  readonly isMeasured: boolean;
  readonly hasVerdict: boolean;
}

function placesOf({ lobes, items = [] }: Grade): Place[] {
  const isWritten = (values: Readonly<Record<string, number | null>>) =>
    Object.values(values).some((value) => value !== null);
  return [
    ...lobes.map(({ position, shown, writtenLift, writtenVerdict }) => ({
      position,
      isMeasured: writtenLift !== null && shown.some((one) => one !== null),
      hasVerdict: writtenVerdict !== null,
    })),
    ...items.map(({ item, shown, written, writtenVerdict }) => ({
      position: item,
      isMeasured: isWritten(shown) && isWritten(written),
      hasVerdict: writtenVerdict !== null,
    })),
  ];
}

function observationsAt(grade: Grade, { position, isMeasured, hasVerdict }: Place): Observation[] {
  const evidence: Evidence = { against: new Set(), unclear: new Set() };
  for (const named of grade.mistakes) {
    if (named.position === position) hold(named, evidence);
  }
  for (const remark of grade.remarks) {
    const skill = Object.hasOwn(REMARKED, remark.code) ? REMARKED[remark.code] : undefined;
    if (remark.position === position && skill !== undefined) evidence.against.add(skill);
  }
  const asked = new Set<Skill>([
    ...(isMeasured ? [...ASKED_BY_A_READING, 'zero-and-preload' as const, 'return-to-zero' as const] : []),
    ...(hasVerdict ? ['verdict' as const] : []),
  ]);
  return observationsOf(asked, evidence);
}

/** Skills that something speaks against, and those of which nothing can be told. */
export interface Evidence {
  readonly against: Set<Skill>;
  readonly unclear: Set<Skill>;
}

/** One observation of each skill asked for or found wanting; what cannot be told says nothing. */
export function observationsOf(asked: ReadonlySet<Skill>, { against, unclear }: Evidence): Observation[] {
  return [...new Set([...asked, ...against])]
    .filter((skill) => against.has(skill) || !unclear.has(skill))
    .map((skill) => ({ skill, right: !against.has(skill) }));
}

/** Holds a named mistake against the skills it speaks of; what cannot be told leaves them open. */
export function hold(
  named: Pick<NamedMistake, 'how' | 'mistakes' | 'offGraduations'>,
  { against, unclear }: Evidence,
): void {
  const skills = named.mistakes.flatMap((mistake) => skillsAgainst(mistake));
  if (named.how === 'one') for (const skill of skills) against.add(skill);
  if (named.how === 'either') for (const skill of skills) unclear.add(skill);
  if (named.how !== 'unexplained') return;
  const off = Math.abs(named.offGraduations ?? Number.POSITIVE_INFINITY);
  if (off <= CARELESS_GRADUATIONS) against.add('interpolating');
  else for (const skill of ASKED_BY_A_READING) unclear.add(skill);
}

function skillsAgainst(mistake: string): readonly Skill[] {
  if (Object.hasOwn(AGAINST, mistake)) return AGAINST[mistake as Mistake];
  return Object.hasOwn(AGAINST_IN_RESULTS, mistake) ? (AGAINST_IN_RESULTS[mistake] ?? []) : [];
}
