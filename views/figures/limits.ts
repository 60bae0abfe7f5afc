import { type GuardedVerdict, judge } from '../../server/engine/index.ts';
import { limitBarSvg, type VerdictWord } from '../drawing/limit-bar.ts';
import {
  type FigureKind,
  type Given,
  givenNumber,
  givenWord,
  held,
  liveFigure,
  type Shown,
} from './figure.ts';

interface Frame {
  readonly id: string;
  readonly unit: 'in' | 'mm';
  readonly lower: number | null;
  readonly upper: number | null;
  readonly step: number;
  readonly from: number;
  readonly to: number;
}

interface State {
  readonly frame: Frame;
  readonly value: number;
  /** Expanded, k = 2. */
  readonly uncertainty: number;
  readonly rule: 'simple' | 'guarded';
}

/** Coverage factor of the uncertainty beside the figure: about 95 %. */
const K = 2;
const WORDS: Readonly<Record<GuardedVerdict, VerdictWord>> = {
  inside: 'inside',
  below: 'below',
  above: 'above',
  'too-close-to-call': 'too close to call',
};

/** A reading moved along its limits, judged by itself or with its uncertainty. */
export const limitsFigure: FigureKind = {
  takes: ['lower', 'upper', 'unit'],
  begin(given, id) {
    const frame = frameOf(given, id);
    return liveFigure<State>(
      {
        caption:
          'A reading against its limits. Move it to a limit and past it; then give it an uncertainty and judge again. Probability by JCGM 106, the guard band by ISO 14253-1.',
        set,
        show,
      },
      {
        frame,
        value: middle(frame),
        uncertainty: frame.step * 2,
        rule: 'simple',
      },
    );
  },
};

function frameOf(given: Given, id: string): Frame {
  const unit = givenWord(given, 'unit', ['in', 'mm'] as const, 'in');
  const limit = (key: string) => (given[key] === undefined ? null : givenNumber(given, key, 0, -1000, 1000));
  const [lower, upper] = [limit('lower'), limit('upper')];
  if (lower === null && upper === null) throw new RangeError('needs lower, upper or both');
  if (lower !== null && upper !== null && lower >= upper)
    throw new RangeError('lower must be less than upper');
  const step = unit === 'in' ? 0.0005 : 0.005;
  const span = lower !== null && upper !== null ? upper - lower : step * 20;
  return {
    id,
    unit,
    lower,
    upper,
    step,
    from: (lower ?? (upper ?? 0) - span) - span * 0.7,
    to: (upper ?? (lower ?? 0) + span) + span * 0.7,
  };
}

/** Where the reading begins: well inside. */
function middle({ lower, upper, from, to, step }: Frame): number {
  const value =
    lower === null ? (from + (upper ?? 0)) / 2 : upper === null ? (lower + to) / 2 : (lower + upper) / 2;
  return Math.round(value / step) * step;
}

function set(state: State, control: string, value: string): State {
  const { frame } = state;
  const counted = (now: number, from: number, to: number) =>
    held(value, Math.round(from / frame.step), Math.round(to / frame.step), now / frame.step) * frame.step;
  if (control === 'value') return { ...state, value: counted(state.value, frame.from, frame.to) };
  if (control === 'uncertainty')
    return { ...state, uncertainty: counted(state.uncertainty, frame.step, frame.step * 8) };
  if (control === 'rule') return { ...state, rule: value === 'guarded' ? 'guarded' : 'simple' };
  return state;
}

function show({ frame, value, uncertainty, rule }: State): Shown {
  const { id, unit, lower, upper, step, from, to } = frame;
  const decimals = unit === 'in' ? 4 : 3;
  const write = (length: number) => `${length.toFixed(decimals)} ${unit}`;
  const { verdict, probability } = judge(value, { expanded: uncertainty, k: K }, { lower, upper }, rule);
  const svg = limitBarSvg(
    { lower, upper, value, unit, word: WORDS[verdict], uncertainty, decimals },
    { id: `${id}-bar`, title: 'A reading against its limits' },
  );
  return {
    drawings: [{ name: 'bar', svg }],
    dial: null,
    controls: [
      {
        kind: 'slide',
        name: 'value',
        label: 'Reading',
        min: Math.round(from / step),
        max: Math.round(to / step),
        step: 1,
        value: Math.round(value / step),
        said: write(value),
      },
      {
        kind: 'slide',
        name: 'uncertainty',
        label: 'Its uncertainty U, k = 2',
        min: 1,
        max: 8,
        step: 1,
        value: Math.round(uncertainty / step),
        said: `± ${write(uncertainty)}`,
      },
      {
        kind: 'choose',
        name: 'rule',
        label: 'Judged',
        options: [
          { value: 'simple', label: 'by itself (simple acceptance)' },
          { value: 'guarded', label: 'with a guard band of U' },
        ],
        value: rule,
      },
    ],
    reads: [
      { name: 'verdict', label: 'Verdict', text: WORDS[verdict] },
      { name: 'probability', label: 'Probability that it is inside', text: percent(probability) },
    ],
    told:
      rule === 'simple'
        ? 'Judged by itself: the reading is held against the limits as it is.'
        : 'Judged with a guard band: inside or outside only where it is so by U or more; between, nothing is proven.',
  };
}

/** Never a certainty that is not one. */
function percent(share: number): string {
  if (share > 0.995) return 'over 99 %';
  if (share < 0.005) return 'under 1 %';
  return `${Math.round(share * 100)} %`;
}
