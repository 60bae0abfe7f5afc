import { findIndicatorLimits, indicatorFigures, judgeIndicator } from '../../../server/engine/index.ts';
import { from, linesOf, type PublishedCase, present } from '../published-case.ts';

const jis = from('JIS B 7503:2011, extract in a maker’s catalogue (2016, index 429)', 'seen');

/** A row of the file against the engine's own, found by the middle of its range. */
function row([construction = '', graduation = '', range = '', ...limits]: readonly string[]): PublishedCase {
  const [from, to] = range.startsWith('<=') ? [0, Number(range.slice(2))] : range.split('-').map(Number);
  const rangeMm = (present(from) + present(to)) / 2;
  const build =
    construction === 'bezel 50 mm and over' ? 'bezel-50-and-over' : 'bezel-under-50-or-back-plunger';
  return jis(
    `${construction}, ${graduation} mm, range ${range} mm: limits, µm`,
    limits.join(' / '),
    0,
    () => {
      const found = present(findIndicatorLimits(Number(graduation), rangeMm, build));
      const { retraceUm, repeatabilityUm, tenthTurnUm, halfTurnUm, oneTurnUm, wholeRangeUm } = found;
      return [retraceUm, repeatabilityUm, tenthTurnUm, halfTurnUm, oneTurnUm, wholeRangeUm].join(' / ');
    },
  );
}

const procedure = from(
  'JIS B 7503:2017, procedure as given by a maker’s page ("Dial Indicators JIS B 7503: 2017"), worked by hand',
  'computed',
);

/** The row for 0.01 mm over 5 to 10 mm, as limits of a check. */
const ROW = { unit: 'mm', wholeRange: 0.015, oneTurn: 0.01, adjacent: 0.005, hysteresis: 0.003 } as const;
const LIMITS = { ...ROW, repeatability: 0.003 };
const WELL_INSIDE = {
  wholeRange: 0.004,
  oneTurn: 0.004,
  adjacent: 0.002,
  hysteresis: 0.001,
  repeatability: 0.001,
};

/** Both sides of each limit, and on it. */
const verdicts = (['wholeRange', 'oneTurn', 'adjacent', 'hysteresis', 'repeatability'] as const).map((name) =>
  jis(
    `0.01 mm, range 5-10 mm, ${name} ${LIMITS[name] * 1000} µm: under it, on it, one over`,
    'inside / inside / above',
    0,
    () =>
      [-0.001, 0, 0.001]
        .map((off) => judgeIndicator({ ...WELL_INSIDE, [name]: LIMITS[name] + off }, LIMITS, { unit: 'mm' }))
        .join(' / '),
  ),
);

/** Errors in micrometres at 0, 0.1, 0.2, 1, 2 and 3 mm going in and coming back; figures by the wording of the procedure. */
const ERRORS: readonly (readonly [at: number, up: number, down: number])[] = [
  ...([
    [0, 0, 2],
    [0.1, 3, 4],
    [0.2, -1, 1],
  ] as const),
  ...([
    [1, 1, 2],
    [2, 6, 8],
    [3, -5, -4],
  ] as const),
];
const worked = () =>
  indicatorFigures(
    ERRORS.map(([at, up, down]) => ({ at, up: at + up / 1000, down: at + down / 1000 })),
    [1.001, 1.0, 1.002, 1.001, 1.001],
    { rangePerTurn: 1 },
  );
const figure = (what: string, published: string, name: keyof ReturnType<typeof worked>) =>
  procedure(`${what}, µm`, published, 1e-6, () => 1000 * present(worked()[name]));

export const cases: readonly PublishedCase[] = [
  ...linesOf('jis-b7503', 'limits.csv').map(row),
  ...verdicts,
  figure('errors 0 3 −1 1 6 −5 in, 2 4 1 2 8 −4 back: whole range, 8 less −5', '13', 'wholeRange'),
  figure('the same inside one turn, 2 to 3 mm', '13', 'oneTurn'),
  figure('the same, largest step over a tenth of a turn, 3 to −1 going in', '4', 'adjacent'),
  figure('the same, hysteresis, 0 mm and 2 mm', '2', 'hysteresis'),
  figure('readings 1.001, 1.000, 1.002, 1.001, 1.001 mm: repeatability', '2', 'repeatability'),
];
