import {
  type AnyAction,
  type AnyBench,
  type AnyDefinition,
  type AnySheet,
  act,
  brief,
  generateBench,
  gradeAttempt,
  isKind,
  type KindName,
  lookAt,
  startBench,
} from '../engine/index.ts';
import { deskOf } from '../kinds/index.ts';
import { type ToldWork, tellWork } from '../review/index.ts';
import { carefulHands } from './careful-hands.ts';
import { type WorkShown, workShown } from './work-shown.ts';

/** Every demonstration is done on the engine of this seed. Attempts have unguessable seeds, so that none of them is shown here. */
const SEED = 'demonstration';

/** Demonstrations kept; working one takes a moment, and many students look at the same one. */
const KEPT = 24;

/** An exercise seen done: what is on its page. */
export interface Demonstration {
  readonly plate: string;
  /** A line each. */
  readonly specification: readonly string[];
  readonly orderOfWork: readonly string[];
  readonly caution: string;
  readonly points: number;
  readonly outOf: number;
  readonly log: ToldWork['log'];
  readonly replay: ToldWork['replay'];
  /** The work itself beside the dial; null where it has no drawing. */
  readonly work: WorkShown | null;
  /** The frame at which each line of the log begins, by its id. Empty without a dial. */
  readonly frames: Readonly<Record<string, number>>;
  readonly lobes: ToldWork['parts']['lobes'];
  readonly items: ToldWork['parts']['items'];
}

/** Demonstrations by their definition, the longest unused forgotten first. */
export class Demonstrations {
  readonly #known = new Map<string, Demonstration>();

  /** The careful work of a definition, done at the first asking. */
  of(asked: AnyDefinition): Demonstration {
    const definition = withoutAnswer(asked);
    const key = JSON.stringify(definition);
    const found = this.#known.get(key) ?? demonstrate(definition);
    this.#known.delete(key);
    this.#known.set(key, found);
    const [oldest] = this.#known.keys();
    if (this.#known.size > KEPT && oldest !== undefined) this.#known.delete(oldest);
    return found;
  }
}

/** A practice sheet may say which fault it hides; the demonstration finds whichever its own engine has. */
function withoutAnswer(definition: AnyDefinition): AnyDefinition {
  if (!isKind(definition, 'fault-finding')) return definition;
  const { fault: _, ...rest } = definition;
  return rest;
}

/** Lets careful hands work an engine of this definition, and tells what they did. */
export function demonstrate(definition: AnyDefinition): Demonstration {
  const bench = generateBench(definition, SEED);
  const plate = brief(bench);
  const { actions, sheet } = workedCarefully(bench);
  const { trace, ...grade } = gradeAttempt(bench, actions, sheet);
  const told = tellWork({ bench, actions, sheet, typed: {}, grade, trace }, 'start');
  const desk = deskOf<KindName>(bench.kind);
  return {
    plate: told.kind.plate,
    specification: told.kind.specification,
    orderOfWork: desk.orderOfWork(plate),
    caution: desk.caution,
    points: grade.total,
    outOf: Object.values(grade.outOf).reduce((sum, points) => sum + points, 0),
    log: told.log,
    replay: told.replay,
    work: workShown(bench, actions),
    frames: Object.fromEntries(
      told.replay === null
        ? []
        : told.log.map(({ id, from }) => [id, told.momentAt(from, 'last')?.frame ?? 0]),
    ),
    lobes: told.parts.lobes,
    items: told.parts.items,
  };
}

function workedCarefully(bench: AnyBench): {
  readonly actions: readonly AnyAction[];
  readonly sheet: AnySheet;
} {
  const actions: AnyAction[] = [];
  let state = startBench(bench);
  const work = carefulHands<KindName>(bench.kind)(brief(bench), lookAt(bench, state));
  let next = work.next();
  while (!next.done) {
    const done = act(bench, state, next.value);
    state = done.state;
    actions.push(next.value);
    next = work.next(done.seen);
  }
  return { actions, sheet: next.value.sheet };
}
