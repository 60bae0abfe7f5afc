import { findIndicatorLimits } from '../../../server/engine/index.ts';
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

export const cases: readonly PublishedCase[] = linesOf('jis-b7503', 'limits.csv').map(row);
