import type { Chance } from '../../random.ts';
import type { LobeState } from './bench.ts';
import type { CamLiftLevel, Specification } from './types.ts';

/** 35 % all sound, 45 % one bad lobe, 20 % two; one lobe in twenty is truly low by a whole turn. */
export function drawStates(
  specification: Specification,
  positions: readonly number[],
  level: CamLiftLevel,
  chance: Chance,
): Map<number, LobeState> {
  const share = chance.uniform(0, 1);
  const bad = Math.min(share < 0.35 ? 0 : share < 0.8 ? 1 : 2, positions.length);
  const meanBad = positions.length === 1 ? 0.65 : 0.85;
  const wholeTurn = Math.min(0.35, (0.05 * positions.length) / meanBad);
  const states = new Map<number, LobeState>();
  const order = chance.shuffle(positions);
  for (const position of order.slice(0, bad)) {
    const wholeTurnDrawn = chance.chance(wholeTurn) && level > 1;
    const builtUpDrawn = chance.chance(0.2);
    if (specification.lower === null && specification.upper === null) continue;
    const canBeLow = specification.lower !== null;
    const builtUp = !canBeLow || (specification.upper !== null && builtUpDrawn);
    states.set(position, canBeLow && wholeTurnDrawn ? 'worn-a-turn' : builtUp ? 'built-up' : 'worn');
  }
  return states;
}
