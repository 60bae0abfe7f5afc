import { cutawaySvg, dialSvg } from '../../drawing/index.ts';
import { FIGURE_DIAL, type Figure, figureLiftCurve, insideFigure } from './lift-figure.ts';

/** One read-out beside the figure. */
export interface Readout {
  readonly name: string;
  readonly label: string;
  readonly text: string;
}

const LIFT_CURVE = figureLiftCurve();

/** What the figure shows at one moment, as the server draws it first and the page draws it on. */
export function figureParts(figure: Figure): {
  readonly dial: string;
  readonly cutaway: string;
  readonly readouts: readonly Readout[];
} {
  const { view } = figure;
  const dial = dialSvg(
    {
      dial: FIGURE_DIAL,
      pointer: view.sample.pointer,
      counter: view.sample.counter,
      faceTurn: view.faceTurn,
      clamped: view.clamped,
      plungerMm: view.sample.plungerMm,
      indicator: view.indicator,
    },
    { id: 'lift-figure-dial', title: 'Dial indicator on the rod, 0.001 inch, one turn 0.100 inch.' },
  );
  return { dial, cutaway: cutawayOf(figure), readouts: readoutsOf(figure) };
}

/** The section view. */
export function cutawayOf(figure: Figure): string {
  const { camDeg, tappetMm } = insideFigure(figure);
  return cutawaySvg(
    { liftCurve: LIFT_CURVE, camDeg, tappetMm },
    {
      id: 'lift-figure-cutaway',
      title: 'Section through cam, roller tappet, rod and the tip of the indicator.',
    },
  );
}

/** What can be read at the bench without working anything out. */
export function readoutsOf({ view, barredDeg }: Figure): readonly Readout[] {
  const { crankDeg, pointer, counter } = view.sample;
  return [
    { name: 'crank', label: 'Crank mark', text: `${Math.round(crankDeg) % 360}°` },
    { name: 'barred', label: 'Barred', text: `${Math.round(barredDeg)}°` },
    { name: 'pointer', label: 'Pointer', text: (Math.round(pointer * 2) / 2).toFixed(1) },
    { name: 'counter', label: 'Small hand', text: counter === null ? 'none' : counter.toFixed(1) },
  ];
}

/** The answer behind the switch: turns, reading, highest so far, in words that say what to do where there is none yet. */
export function answerOf({ counted, highest, barredDeg }: Figure): string {
  if (counted === null || highest === null) return 'Turn the bezel to zero first.';
  const perTurn = Math.round(FIGURE_DIAL.rangePerTurn / FIGURE_DIAL.graduation);
  // The pointer swings a hair either side of its zero on the base circle; that is no turn.
  const now = Math.abs(counted) < 0.5 ? 0 : counted;
  const turns = Math.floor(now / perTurn);
  const pointer = now - turns * perTurn;
  const lift = (graduations: number) => (graduations * FIGURE_DIAL.graduation).toFixed(4).replace('-', '−');
  const minus = turns < 0 ? ' Below zero: the zero was not taken at the lowest place.' : '';
  const sum = `${String(turns).replace('-', '−')} × 0.100 + ${pointer.toFixed(1)} × 0.001 = ${lift(now)} in.`;
  return `${sum}${minus} Highest since zero, ${barredDeg === 0 ? 'so far' : `up to ${Math.round(barredDeg)}°`}: ${lift(highest)} in.`;
}
