import {
  type AnyAction,
  type AnyBench,
  type AnyState,
  act,
  brief,
  type Dial,
  generateBench,
  graduationsPerTurn,
  lookAt,
  startBench,
} from '../../server/engine/index.ts';
import type { DialSample } from '../client/models/interpolate.ts';
import { sceneOf } from '../scenes/index.ts';
import {
  type Control,
  type FigureKind,
  givenWord,
  held,
  type LiveFigure,
  type Readout,
  type Shown,
} from './figure.ts';
import { signed, startTally, type Tally, tallyOn, zeroTally } from './tally.ts';
import { WORKS, type WorkKind, type WorkOwn } from './work-kinds.ts';

/** What every gauged kind lets be seen. */
interface View {
  readonly indicator: 'off' | 'on';
  readonly faceTurn: number;
  readonly zeroed: boolean;
  readonly clamped: boolean;
  readonly sample: { readonly pointer: number; readonly counter: number | null; readonly plungerMm: number };
}

/** Everybody has the same piece of work, and it is sound: what is learned here is what the gauge does, not what is wrong. */
const SEED = 'figure';

/** The work of a kind on the page: the gauge set up on it by careful hands, free to be zeroed and worked. */
export const workFigure: FigureKind = {
  takes: ['kind', 'dial'],
  begin(given, id) {
    const kind = givenWord(given, 'kind', Object.keys(WORKS) as WorkKind[], 'run-out');
    return new WorkFigure(kind, given.dial, id);
  },
};

class WorkFigure implements LiveFigure {
  readonly caption: string;
  readonly #own: WorkOwn;
  readonly #bench: AnyBench;
  readonly #plate: { readonly dial: Dial };
  readonly #id: string;
  #state: AnyState;
  #values: Record<string, string>;
  #tally: Tally;
  #told = false;

  constructor(kind: WorkKind, dial: string | undefined, id: string) {
    this.#own = WORKS[kind];
    this.#id = id;
    this.caption = this.#own.caption;
    const definition = { ...this.#own.definition, kind, level: 1, ...(dial === undefined ? {} : { dial }) };
    this.#bench = generateBench(definition as Parameters<typeof generateBench>[0], SEED);
    this.#plate = brief(this.#bench) as { readonly dial: Dial };
    this.#state = startBench(this.#bench);
    this.#values = {};
    this.#tally = startTally(0);
    this.#begin();
  }

  set(control: string, value: string): void {
    if (control === 'again') this.#begin();
    else if (control === 'tell') this.#told = !this.#told;
    else if (control === 'zero') this.#do({ type: 'zero' });
    else if (control === 'clamp') this.#do({ type: this.#view().clamped ? 'unclamp' : 'clamp' });
    else this.#doOwn(control, value);
  }

  #doOwn(control: string, value: string): void {
    const known = this.#own.controls(this.#values, this.#view()).find(({ name }) => name === control);
    if (known === undefined) return;
    const before = this.#values[control] ?? '';
    const now = settingOf(known, value, before);
    if (now === before && known.kind !== 'press') return;
    this.#values = { ...this.#values, [control]: now };
    for (const action of this.#own.actions({
      control,
      before,
      now,
      values: this.#values,
      plate: this.#plate,
    }))
      this.#do(action);
  }

  show(): Shown {
    const view = this.#view();
    const { dial } = this.#plate;
    const scene = sceneOf(this.#bench.kind);
    const { pointer, counter, plungerMm } = view.sample;
    const title = this.#own.title;
    return {
      drawings: [
        {
          name: 'work',
          svg:
            scene?.draw(this.#plate, view, {
              id: `${this.#id}-work`,
              title,
              description: scene.describe(this.#plate, view),
            }) ?? '',
        },
      ],
      dial: {
        dial,
        pointer,
        counter,
        plungerMm,
        faceTurn: view.faceTurn,
        clamped: view.clamped,
        indicator: view.indicator,
        title: `Dial indicator, ${dial.graduation} ${dial.unit}.`,
      },
      controls: [...this.#own.controls(this.#values, view), ...this.#gauge(view)],
      reads: this.#reads(view),
      told: this.#told ? this.#tell() : null,
    };
  }

  #gauge({ clamped }: View): readonly Control[] {
    return [
      { kind: 'press', name: 'zero', label: 'Bezel to zero', off: clamped },
      { kind: 'press', name: 'clamp', label: 'Clamp', pressed: clamped },
      { kind: 'press', name: 'tell', label: 'Show the count', pressed: this.#told },
      { kind: 'press', name: 'again', label: 'Start again' },
    ];
  }

  #reads(view: View): readonly Readout[] {
    const { pointer, counter } = view.sample;
    return [
      ...this.#own.reads(this.#values, view, this.#plate),
      { name: 'pointer', label: 'Pointer', text: (Math.round(pointer * 2) / 2).toFixed(1) },
      { name: 'counter', label: 'Small hand', text: counter === null ? 'none' : counter.toFixed(1) },
    ];
  }

  #view(): View {
    return lookAt(this.#bench, this.#state) as unknown as View;
  }

  #begin(): void {
    this.#state = startBench(this.#bench);
    this.#values = { ...this.#own.values(this.#plate) };
    this.#told = false;
    this.#tally = startTally(this.#view().sample.pointer);
    for (const action of this.#own.setUp(this.#plate)) this.#do(action);
    this.#tally = startTally(this.#view().sample.pointer);
  }

  #do(action: AnyAction): void {
    const { state, seen } = act(this.#bench, this.#state, action);
    this.#state = state;
    const { samples, said } = seen as unknown as {
      readonly samples: readonly DialSample[];
      readonly said: readonly { readonly code: string }[];
    };
    const { pointer } = this.#view().sample;
    this.#tally = said.some(({ code }) => code === 'bezel-at-zero')
      ? zeroTally(pointer)
      : tallyOn(
          this.#tally,
          samples.map((sample) => sample.pointer),
          graduationsPerTurn(this.#plate.dial),
        );
    // Whatever takes the gauge off the work takes its zero with it.
    if (!this.#view().zeroed) this.#tally = startTally(pointer);
  }

  #tell(): string {
    const { now, highest, lowest } = this.#tally;
    if (now === null) return 'Turn the bezel to zero first; then the travel is counted from there.';
    const { graduation, unit } = this.#plate.dial;
    const write = (count: number) =>
      signed(`${((Math.round(count * 2) / 2) * graduation).toFixed(unit === 'in' ? 4 : 3)} ${unit}`);
    return `From the zero: now ${write(now)}; highest ${write(highest)}, lowest ${write(lowest)}, together ${write(highest - lowest)}.`;
  }
}

/** What a control can be set to; anything else leaves what was. */
function settingOf(control: Control, value: string, before: string): string {
  if (control.kind === 'slide') return String(held(value, control.min, control.max, Number(before)));
  if (control.kind === 'choose')
    return control.options.find((option) => option.value === value)?.value ?? before;
  return value;
}
