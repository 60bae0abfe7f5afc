import {
  act,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftState,
  camSection,
  generateBench,
  graduationsPerTurn,
  lookAt,
  startBench,
} from '../../server/engine/index.ts';
import { cutawaySvg } from '../drawing/cutaway.ts';
import type { FigureKind, LiveFigure, Shown } from './figure.ts';
import { signed, startTally, type Tally, tallyOn, zeroTally } from './tally.ts';

const SOUND = generateBench(
  {
    kind: 'cam-lift',
    dial: 'inch-0.001-1',
    positions: [1],
    tappetFaults: false,
    setUpFaults: false,
    specification: { unit: 'in', nominal: 0.237, lower: 0.233 },
  },
  'figure 30',
) as CamLiftBench;

const NAMES = ['sound', 'arm', 'base', 'rod', 'sticky', 'hung'] as const;
type Fault = (typeof NAMES)[number];

const LABELS: Readonly<Record<Fault, string>> = {
  sound: 'all tight, tappet home',
  arm: 'arm of the stand loose',
  base: 'base of the stand loose',
  rod: 'rod loose in the tappet',
  sticky: 'tappet sticks in its bore',
  hung: 'tappet hung short of the lobe',
};

/** An engine with one thing wrong with the set-up. Sizes of the usual kind; common practice, no source. */
function benchWith(fault: Fault): CamLiftBench {
  const loosePart = fault === 'arm' || fault === 'base' || fault === 'rod' ? fault : null;
  return {
    ...SOUND,
    rigs: SOUND.rigs.map((rig) => ({ ...rig, loosePart, rodRocksMm: loosePart === 'rod' ? 0.08 : 0 })),
    lobes: SOUND.lobes.map((lobe) => ({
      ...lobe,
      tappet:
        fault === 'sticky'
          ? { fault: 'sticky', hungMm: 0, sticksMm: 0.6 }
          : fault === 'hung'
            ? { fault: 'dull-stop', hungMm: 1.2, sticksMm: 0 }
            : { fault: 'free', hungMm: 0, sticksMm: 0 },
    })),
  };
}

const SET_UP: readonly CamLiftAction[] = [
  { type: 'move', position: 1 },
  { type: 'seat' },
  { type: 'preload', turns: 0.6 },
];

/** Lines kept under the figure. */
const MOST_LINES = 6;

/** Does the reading come back? The tip lifted, the rod pressed, the lobe barred round, with one thing wrong or nothing. */
export const repeatFigure: FigureKind = {
  takes: [],
  begin: (_, id) => new RepeatFigure(id),
};

class RepeatFigure implements LiveFigure {
  readonly caption =
    'Zero, then lift the tip three times, press on the rod, bar the lobe round twice. Write down what comes back. Then choose what is wrong, and do the same.';
  readonly #id: string;
  #fault: Fault = 'sound';
  #bench = SOUND;
  #state: CamLiftState = startBench(SOUND);
  #tally: Tally = startTally(0);
  #lines: readonly string[] = [];

  constructor(id: string) {
    this.#id = id;
    this.#begin();
  }

  set(control: string, value: string): void {
    if (control === 'fault') {
      this.#fault = NAMES.find((name) => name === value) ?? this.#fault;
      this.#begin();
    } else if (control === 'zero') this.#do({ type: 'zero' });
    else if (control === 'tip') {
      this.#do({ type: 'lift-tip' });
      this.#write('tip lifted');
    } else if (control === 'press') {
      this.#do({ type: 'press' });
      this.#write('rod pressed');
    } else if (control === 'bar') {
      const before = this.#tally;
      this.#tally = { ...before, highest: before.now ?? 0, lowest: before.now ?? 0 };
      this.#do({ type: 'bar', degrees: 720 });
      this.#write('barred two turns', ` highest ${count(this.#tally.highest)},`);
    }
  }

  show(): Shown {
    const view = lookAt(this.#bench, this.#state);
    const { pointer, counter, plungerMm } = view.sample;
    const section = camSection(this.#bench, this.#state);
    const zeroed = this.#tally.now !== null;
    const press = (name: string, label: string) => ({ kind: 'press', name, label, off: !zeroed }) as const;
    return {
      drawings: [
        {
          name: 'section',
          svg:
            section === null
              ? ''
              : cutawaySvg(
                  { ...section, figures: false },
                  { id: `${this.#id}-section`, title: 'Section through cam, tappet and rod' },
                ),
        },
      ],
      dial: {
        dial: this.#bench.dial,
        pointer,
        counter,
        plungerMm,
        faceTurn: view.faceTurn,
        clamped: view.clamped,
        indicator: view.indicator,
        title: 'Dial indicator on the rod, 0.001 inch.',
      },
      controls: [
        {
          kind: 'choose',
          name: 'fault',
          label: 'Set-up',
          options: NAMES.map((name) => ({ value: name, label: LABELS[name] })),
          value: this.#fault,
        },
        { kind: 'press', name: 'zero', label: 'Bezel to zero' },
        press('tip', 'Lift the tip'),
        press('press', 'Press on the rod'),
        press('bar', 'Bar two turns'),
      ],
      reads: [{ name: 'pointer', label: 'Pointer', text: (Math.round(pointer * 2) / 2).toFixed(1) }],
      told: zeroed
        ? `In graduations from the zero: ${this.#lines.length === 0 ? 'nothing done yet' : this.#lines.join('; ')}.`
        : `Now: ${LABELS[this.#fault]}. Turn the bezel to zero first.`,
    };
  }

  #begin(): void {
    this.#bench = benchWith(this.#fault);
    this.#state = startBench(this.#bench);
    this.#lines = [];
    for (const action of SET_UP) this.#do(action);
    this.#tally = startTally(lookAt(this.#bench, this.#state).sample.pointer);
  }

  #do(action: CamLiftAction): void {
    const { state, seen } = act(this.#bench, this.#state, action);
    this.#state = state;
    const { pointer } = seen.now.sample;
    if (action.type === 'zero') {
      this.#lines = [];
      this.#tally = zeroTally(pointer);
      return;
    }
    const pointers = [...seen.samples.map((sample) => sample.pointer), pointer];
    this.#tally = tallyOn(this.#tally, pointers, graduationsPerTurn(this.#bench.dial));
  }

  #write(what: string, more = ''): void {
    const line = `${what}:${more} comes back to ${count(this.#tally.now ?? 0)}`;
    this.#lines = [...this.#lines, line].slice(-MOST_LINES);
  }
}

function count(graduations: number): string {
  const halves = Math.round(graduations * 2) / 2;
  return signed((halves === 0 ? 0 : halves).toFixed(1));
}
