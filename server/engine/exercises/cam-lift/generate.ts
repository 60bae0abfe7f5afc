import { DIALS, type Dial, type DialName } from '../../dial/dial.ts';
import { drawGaugeError } from '../../dial/gauge-error.ts';
import { CYCLE_DEG, FIRING_ORDERS, firingTdcDeg } from '../../drive/firing.ts';
import { type Chance, chanceFor } from '../../random.ts';
import type { CamLiftBench, LobeTruth } from './bench.ts';
import { decisionFor, marginFor } from './decision.ts';
import { drawLobe, drawShape } from './draw-lobes.ts';
import { drawRigs } from './draw-rig.ts';
import { drawPage, drawSpecification } from './draw-specification.ts';
import { drawStates } from './draw-states.ts';
import { drawTappets } from './draw-tappets.ts';
import { drawRods, drawTray, whyUnfit } from './draw-tray.ts';
import { drawRollers } from './roller.ts';
import type { CamLiftDefinition, CamLiftLevel, Specification } from './types.ts';

/**
 * Draws a practice engine. The same definition and seed always give the same one; each hidden condition has its own
 * stream. Shares and sizes of the hidden conditions: common practice, no source.
 * @throws RangeError when the definition cannot be built (unknown dial, a firing order that misses a cylinder, a gauge too short).
 */
export function generateCamLift(definition: CamLiftDefinition, seed: string | number): CamLiftBench {
  const text = String(seed);
  const cylinders = definition.cylinders ?? (definition.firingOrder?.length === 4 ? 4 : 6);
  const firingOrder = checkedFiringOrder(definition.firingOrder ?? FIRING_ORDERS[cylinders], cylinders);
  const level = checkedLevel(definition.level ?? 2);
  const dialName: DialName = definition.dial ?? 'inch-0.001-1';
  const dial = drawDial(dialName, definition, level, chanceFor(text, 'dial'));
  const specification = drawSpecification(definition, dial, level, chanceFor(text, 'specification'));
  checkFits(dialName, dial, specification);
  const gauge = drawGaugeError(dial, chanceFor(text, 'gauge-error'));
  const positions = drawPositions(definition.positions ?? 2, cylinders, chanceFor(text, 'positions'));
  const states = drawStates(specification, positions, level, chanceFor(text, 'lobe-states'));
  const decision = decisionFor(definition, dial, specification);
  const shape = drawShape(chanceFor(text, 'lobe-shape'));
  const engine = chanceFor(text, 'engine');
  const faults = drawTappets(definition, positions, specification, level, chanceFor(text, 'tappets'));
  const closeCalls = definition.closeCalls ?? false;
  const marginMm = marginFor(dial, gauge, decision, closeCalls, specification.unit);
  const lobes = Array.from({ length: cylinders }, (_, index): LobeTruth => {
    const position = index + 1;
    const state = states.get(position) ?? 'sound';
    const nose = (firingTdcDeg(firingOrder, position) + shape.noseAfterTdcDeg) % CYCLE_DEG;
    const drawn = drawLobe(
      { ...shape.curve, noseCrankDeg: nose },
      state,
      specification,
      { dial, marginMm, closeCalls },
      chanceFor(text, `lobe/${position}`),
    );
    return { ...drawn, state, tappet: faults.get(position) ?? { fault: 'free', hungMm: 0, sticksMm: 0 } };
  });
  return {
    kind: 'cam-lift',
    version: 1,
    seed: text,
    engineName: definition.engineName ?? `Practice engine, inline ${cylinders}`,
    cylinders,
    firingOrder,
    dialName,
    dial,
    gauge,
    tray: drawTray(definition, { dialName, dial, error: gauge }, specification, text),
    rods: drawRods(definition, text),
    certificate: definition.certificate ?? false,
    specification,
    page: drawPage(definition, dial, specification, text),
    decision,
    positions,
    fullCycle: definition.fullCycle ?? false,
    backlashDeg: engine.uniform(0.1, 0.8),
    compression: { everyDeg: CYCLE_DEG / cylinders, leakSeconds: engine.uniform(1.2, 2) },
    startCrankDeg: Math.round(engine.uniform(0, CYCLE_DEG)),
    startFaceTurn: Math.round(chanceFor(text, 'bezel').uniform(0, 100)),
    lobes,
    rigs: drawRigs(definition, text, positions, cylinders, level),
    rollerVerdict: definition.rollerVerdict ?? false,
    rollers: drawRollers(text, cylinders, definition.rollerVerdict ?? false),
  };
}

function checkedLevel(level: number): CamLiftLevel {
  if (level !== 1 && level !== 2 && level !== 3) throw new RangeError('The level must be 1, 2 or 3.');
  return level;
}

/** The dial as it is printed, but for the face a sheet asks for; at level 3 face and small hand may be the less usual ones. */
function drawDial(name: DialName, { face }: CamLiftDefinition, level: CamLiftLevel, chance: Chance): Dial {
  const printed: Dial | undefined = DIALS[name];
  if (printed === undefined) throw new RangeError(`No dial is called "${name}".`);
  const balanced = chance.chance(0.5);
  const backwards = chance.chance(0.5);
  const drawn = level === 3 ? { balanced, backwards } : { balanced: false, backwards: false };
  return {
    ...printed,
    face: face ?? (drawn.balanced ? 'balanced' : printed.face),
    counter: drawn.backwards && printed.counter === 'forwards' ? 'backwards' : printed.counter,
  };
}

function checkFits(dialName: DialName, dial: Dial, specification: Specification): void {
  const why = whyUnfit(dial, specification);
  const { nominal, unit } = specification;
  if (why === 'too-short')
    throw new RangeError(`The gauge ${dialName} is too short for a lift of ${nominal} ${unit}.`);
  if (why === 'too-fine') throw new RangeError(`The gauge ${dialName} is too fine for a cam's lift.`);
}

function checkedFiringOrder(order: readonly number[], cylinders: number): readonly number[] {
  const wanted = Array.from({ length: cylinders }, (_, index) => index + 1);
  if ([...order].sort((a, b) => a - b).join() !== wanted.join()) {
    throw new RangeError(
      `A firing order of ${cylinders} cylinders must name each of 1 to ${cylinders} once.`,
    );
  }
  return order;
}

function drawPositions(
  wanted: number | readonly number[],
  cylinders: number,
  chance: Chance,
): readonly number[] {
  const all = Array.from({ length: cylinders }, (_, index) => index + 1);
  const drawn = chance.shuffle(all);
  if (typeof wanted === 'number') {
    return drawn.slice(0, Math.min(Math.max(1, Math.trunc(wanted)), cylinders)).sort((a, b) => a - b);
  }
  const chosen = [...new Set(wanted)].sort((a, b) => a - b);
  const unknown = chosen.find((position) => !all.includes(position));
  if (unknown !== undefined || chosen.length === 0)
    throw new RangeError(`This engine has no pump position ${unknown ?? '(none named)'}.`);
  return chosen;
}
