import {
  act,
  brief,
  type CamLiftAction,
  type CamLiftSeen,
  type CamLiftSheet,
  convertLength,
  type FollowUp,
  generateBench,
  graduationsPerTurn,
  lookAt,
  type Sample,
  startBench,
  type Verdict,
  type WrittenLobe,
  type WrittenReading,
} from '../../server/engine/index.ts';

/** A whole attempt as an observer left it. */
export interface ObservedAttempt {
  readonly bench: ReturnType<typeof generateBench>;
  readonly actions: readonly CamLiftAction[];
  readonly sheet: CamLiftSheet;
}

/** What one reading was, as the observer saw it; turned into what is written by the observer's habits. */
export interface SeenReading {
  readonly turns: number;
  readonly pointer: number;
  readonly counterBefore: number;
  readonly counterHigh: number;
  readonly returned: number;
  readonly graduation: number;
  readonly rangePerTurn: number;
  readonly perTurn: number;
}

export interface Habits {
  /** Turns a reading seen into a reading written. The default writes what was seen. */
  readonly write?: (seen: SeenReading, position: number, reading: number) => WrittenReading;
  /** Decides the verdict. The default judges the lift written against the specification. */
  readonly verdict?: (lift: number, position: number) => Verdict;
  /** Leaves a lobe unmeasured though its line is filled from the specification. */
  readonly skip?: (position: number) => boolean;
  /** Graduations short of the high point at which this observer stops and writes. */
  readonly stopsShortBy?: number;
  /** Turns of preload. */
  readonly preloadTurns?: number;
}

/**
 * A student who reads only what is to be seen: pointer, small hand, effort and what is said. Everything below uses `seen` and
 * `brief` alone, never the bench.
 */
export function observe(
  definition: Parameters<typeof generateBench>[0],
  seed: string | number,
  habits: Habits = {},
): ObservedAttempt {
  const bench = generateBench(definition, seed);
  const plate = brief(bench);
  let state = startBench(bench);
  let view = lookAt(bench, state);
  const actions: CamLiftAction[] = [];
  const perTurn = graduationsPerTurn(plate.dial);
  const { graduation, rangePerTurn } = plate.dial;

  const does = (action: CamLiftAction): CamLiftSeen => {
    const result = act(bench, state, action);
    state = result.state;
    view = result.seen.now;
    actions.push(action);
    return result.seen;
  };
  const heard = (seen: CamLiftSeen, code: string) => seen.said.some((one) => one.code === code);

  /** Follows the pointer through samples, counting graduations on from where it stood. */
  const follow = (samples: readonly Sample[], from: { pointer: number; count: number }) => {
    let { pointer, count } = from;
    const counts: number[] = [];
    for (const sample of samples) {
      const moved = ((sample.pointer - pointer + 1.5 * perTurn) % perTurn) - perTurn / 2;
      count += moved;
      pointer = sample.pointer;
      counts.push(count);
    }
    return { pointer, count, counts };
  };

  const seatHome = () => {
    let seen = does({ type: 'seat' });
    if (heard(seen, 'far-up')) {
      does({ type: 'turn-tappet' });
      seen = does({ type: 'seat' });
    }
    if (heard(seen, 'dull-stop')) does({ type: 'seat' });
  };

  /**
   * Bars round to learn how low the pointer goes, then on until it has stood there, within half a graduation, over 60° of
   * crank. False when the tip left the work on the way.
   */
  const findBaseCircle = (): boolean => {
    let track = { pointer: view.sample.pointer, count: 0 };
    let lowest = 0;
    let left = false;
    let lately: number[] = [];
    const stands = () => lately.length >= 6 && Math.max(...lately) - Math.min(...lately) <= 0.5 && Math.min(...lately) - lowest < 1.7;
    for (let n = 0; n < 220 && (n < 72 || !stands()); n += 1) {
      const seen = does({ type: 'bar', degrees: 10, speed: 60 });
      left ||= heard(seen, 'tip-off-the-work');
      // Pressing shows whether the tappet has stayed up.
      const pressed = n % 6 === 5 ? does({ type: 'press' }).samples : [];
      track = follow([...seen.samples.slice(1), ...pressed], track);
      lowest = Math.min(lowest, track.count);
      lately = [...lately, track.count].slice(-7);
    }
    return !left;
  };

  const measure = (position: number, reading: 1 | 2): SeenReading => {
    const counterBefore = view.sample.counter ?? 0;
    let track = {
      pointer: view.sample.pointer,
      count: view.sample.pointer > perTurn / 2 ? view.sample.pointer - perTurn : view.sample.pointer,
    };
    let high = { count: Number.NEGATIVE_INFINITY, counter: 0 };
    let noted = false;
    for (let n = 0; n < 72; n += 1) {
      const { samples } = does({ type: 'bar', degrees: 10, speed: 60 });
      const followed = follow(samples.slice(1), track);
      followed.counts.forEach((count, index) => {
        if (count > high.count) high = { count, counter: samples[index + 1]?.counter ?? 0 };
      });
      track = followed;
      const passedHigh = high.count > perTurn / 2 && track.count < high.count - 3;
      if (passedHigh && !noted) {
        noted = true;
        does({ type: 'note', position, reading, box: 'pointer' });
      }
    }
    does({ type: 'press' });
    const returned = view.sample.pointer > perTurn / 2 ? view.sample.pointer - perTurn : view.sample.pointer;
    const whole = Math.round(high.count);
    const turns = Math.floor(whole / perTurn);
    return {
      turns,
      pointer: whole - turns * perTurn,
      counterBefore,
      counterHigh: high.counter,
      returned: Math.round(returned),
      graduation,
      rangePerTurn,
      perTurn,
    };
  };

  const lobes: WrittenLobe[] = [];
  for (const position of plate.positions) {
    if (habits.skip?.(position)) {
      const lift = plate.specification.nominal;
      const blank = { counterBefore: null, counterHigh: null, turns: null, pointer: null, returned: 0 };
      lobes.push({
        position,
        readings: [
          { ...blank, lift },
          { ...blank, lift },
        ],
        lift,
        verdict: 'inside',
        next: 'return-to-service',
      });
      continue;
    }
    does({ type: 'move', position });
    seatHome();
    // Set down wherever the crank stands, the tip may hang in the air on the base circle: then it is set down again there.
    const preloadTurns = habits.preloadTurns ?? 0.5;
    for (let tries = 0; tries < 6; tries += 1) {
      does({ type: 'preload', turns: preloadTurns });
      if (findBaseCircle()) break;
    }
    for (let n = 0; n < 3; n += 1) does({ type: 'lift-tip' });
    does({ type: 'zero' });
    does({ type: 'clamp' });
    const readings = ([1, 2] as const).map((reading) =>
      (habits.write ?? writeWhatIsSeen)(measure(position, reading), position, reading),
    );
    const lifts = readings.flatMap(({ lift }) => lift ?? []);
    const lift = lifts.length === 0 ? null : lifts.reduce((sum, one) => sum + one, 0) / lifts.length;
    const inSpecUnit = lift === null ? 0 : convertLength(lift, plate.dial.unit, plate.specification.unit);
    const verdict = (habits.verdict ?? ((length: number) => judgeBy(plate.specification, length)))(
      inSpecUnit,
      position,
    );
    const next: FollowUp = verdict === 'inside' ? 'return-to-service' : 'measure-again';
    lobes.push({ position, readings, lift, verdict, next });
  }
  return { bench, actions, sheet: { lobes } };
}

function judgeBy({ lower, upper }: { lower: number | null; upper: number | null }, lift: number): Verdict {
  if (lower !== null && lift < lower - 1e-9) return 'below';
  if (upper !== null && lift > upper + 1e-9) return 'above';
  return 'inside';
}

export function writeWhatIsSeen(seen: SeenReading): WrittenReading {
  const { turns, pointer, counterBefore, counterHigh, returned, graduation, rangePerTurn } = seen;
  return {
    turns,
    pointer,
    counterBefore,
    counterHigh,
    returned: returned * graduation,
    lift: turns * rangePerTurn + pointer * graduation,
  };
}
