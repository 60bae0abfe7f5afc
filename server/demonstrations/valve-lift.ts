import {
  convertLength,
  firingTdcDeg,
  judge,
  rockerRatio,
  type ValveBrief,
  type ValveName,
  type ValvePlace,
  type ViewOf,
  type WrittenValve,
} from '../engine/index.ts';
import { GaugeHands, setUp, zero } from './gauge-hands.ts';
import { nextFor } from './judged.ts';
import type { Finished, Work } from './work.ts';

/** Steps left out or done badly, for the remarks they bring. */
export interface ValveHabits {
  readonly leavesOut?: readonly ('wipe' | 'align' | 'tip' | 'clamp' | 'return' | 'lash' | 'feel')[];
  /** Crank degrees from firing top dead centre at which everything is zeroed. */
  readonly zeroAtDeg?: number;
  /** Preload on the retainer. */
  readonly retainerTurns?: number;
  /** Barred no further than this. */
  readonly barsDeg?: number;
  readonly rocksDownOnly?: boolean;
  /** Reads the retainer in a second set-up too. */
  readonly twice?: boolean;
}

type Step = NonNullable<ValveHabits['leavesOut']>[number];

/** A valve at a time, from firing top dead centre: the play of its rocker, then pushrod and retainer while barring round. */
export function* measureValves(
  plate: ValveBrief,
  first: ViewOf<'valve-lift'>,
  habits: ValveHabits = {},
): Work<'valve-lift', Finished<'valve-lift'>> {
  const valves: WrittenValve[] = [];
  const student = new AtTheValves(plate, first, habits);
  for (const name of plate.valves) valves.push(yield* student.measure(name));
  return { sheet: { valves } };
}

class AtTheValves {
  readonly #plate: ValveBrief;
  readonly #habits: ValveHabits;
  readonly #hands: GaugeHands<'valve-lift'>;

  constructor(plate: ValveBrief, first: ViewOf<'valve-lift'>, habits: ValveHabits) {
    this.#plate = plate;
    this.#habits = habits;
    this.#hands = new GaugeHands(plate.dial, first);
  }

  *measure(name: ValveName): Work<'valve-lift', WrittenValve> {
    yield* this.#barToZero(name);
    const lash = yield* this.#read(name, 'rocker');
    const lobeLift = yield* this.#read(name, 'pushrod');
    if (this.#skips('return')) yield* this.#bar(100);
    const lift = yield* this.#read(name, 'retainer');
    if (this.#habits.twice) yield* this.#read(name, 'retainer');
    return writtenValve(this.#plate, name, { lobeLift, valveLift: lift, lash });
  }

  /** To firing top dead centre of the valve's cylinder, where both its valves are shut. */
  #barToZero({ cylinder }: ValveName) {
    const there = firingTdcDeg(this.#plate.firingOrder, cylinder) + (this.#habits.zeroAtDeg ?? 0);
    return this.#bar((there - this.#hands.sees().crankDeg + 1440) % 720);
  }

  *#read(name: ValveName, at: ValvePlace): Work<'valve-lift', number> {
    yield* this.#hands.does({ type: 'move', ...name, at });
    if (at === 'rocker') yield* this.#feelRocker();
    const { dial } = this.#plate;
    const leavesOut = (this.#habits.leavesOut ?? []).filter((step) => step !== 'lash' && step !== 'feel');
    yield* setUp(this.#hands, { leavesOut, preloadTurns: this.#preloadTurns(name, at) });
    yield* zero(this.#hands, { leavesOut });
    const graduations = yield* at === 'rocker' ? this.#rockOver() : this.#barRound(at);
    return (Math.round(2 * graduations) / 2) * dial.graduation;
  }

  /** Where the stop is springy an oil-filled tappet has leaked down. */
  *#feelRocker(): Work<'valve-lift'> {
    yield* this.#rock('down');
    if (!this.#skips('feel') && this.#hands.heard('springy-stop'))
      yield* this.#hands.does({ type: 'pump-up' });
    yield* this.#rock('up');
  }

  *#rockOver(): Work<'valve-lift', number> {
    if (!this.#skips('lash')) yield* this.#rock('down');
    const play = Math.abs(this.#hands.reads());
    if (!this.#skips('lash') && !this.#habits.rocksDownOnly) yield* this.#rock('up');
    return play;
  }

  /** Two turns of the crank; a retainer goes down with its valve, a pushrod up. */
  *#barRound(at: ValvePlace): Work<'valve-lift', number> {
    const way = at === 'retainer' ? -1 : 1;
    const whole = this.#habits.barsDeg ?? 720;
    const seen = yield* this.#bar(this.#skips('return') ? whole - 100 : whole);
    return Math.max(0, ...seen.map(({ graduations }) => way * graduations));
  }

  /** Deep enough on the retainer that the tip follows the valve down all the way. */
  #preloadTurns({ valve }: ValveName, at: ValvePlace): number {
    const { specification, dial } = this.#plate;
    if (at === 'pushrod') return 0.5;
    // A rocker may have millimetres of play.
    if (at === 'rocker') return convertLength(2.5, 'mm', dial.unit) / dial.rangePerTurn + 0.25;
    const { upper } = specification[valve];
    const over = convertLength(upper, specification.unit, dial.unit) + convertLength(1.27, 'mm', dial.unit);
    return this.#habits.retainerTurns ?? over / dial.rangePerTurn + 0.5;
  }

  #rock(way: 'up' | 'down') {
    return this.#hands.does({ type: 'rock-rocker', way });
  }

  #bar(degrees: number) {
    return this.#hands.does({ type: 'bar', degrees });
  }

  #skips(step: Step): boolean {
    return this.#habits.leavesOut?.includes(step) ?? false;
  }
}

export interface ReadLengths {
  readonly lobeLift: number;
  readonly valveLift: number;
  readonly lash: number;
}

/** A line of the sheet worked out from lengths in the dial's unit without a slip. */
export function writtenValve(
  { specification, dial }: ValveBrief,
  { cylinder, valve }: ValveName,
  lengths: ReadLengths,
): WrittenValve {
  const { lobeLift, valveLift, lash } = lengths;
  const ratio = lobeLift > 0 ? Math.round(100 * rockerRatio(valveLift, lash, lobeLift)) / 100 : null;
  const { lower, upper } = specification[valve];
  const inUnit = convertLength(valveLift, dial.unit, specification.unit);
  const { verdict } = judge(inUnit, null, { lower, upper }, 'simple');
  return { cylinder, valve, ...lengths, ratio, verdict, next: nextFor(verdict) };
}
