import type { FastifyInstance } from 'fastify';
import { demonstrationRoutes } from './routes.ts';

/** The room where an exercise is seen done before it is begun. */
export async function demonstrations(app: FastifyInstance): Promise<void> {
  demonstrationRoutes(app);
}

export { measureBacklash } from './backlash.ts';
export { type BoreHabits, boreSheet, measureBore } from './bore-gauge.ts';
export {
  type CamLiftHabits,
  type MeasuredLobes,
  measureLobes,
  type Plate,
  type SeenLobe,
} from './cam-lift.ts';
export { writeSheet, writeWhatIsSeen } from './cam-lift-sheet.ts';
export { carefulHands } from './careful-hands.ts';
export { readDials } from './dial-reading.ts';
export { measureEndPlay } from './end-play.ts';
export { type FaultHabits, findFault } from './fault-finding.ts';
export type { GaugedHabits } from './gauge-hands.ts';
export { type CheckHabits, checkIndicator, checkSheet } from './indicator-check.ts';
export { type CurveHabits, plotLobe } from './lift-curve.ts';
export { measureLiners } from './liner-protrusion.ts';
export type { SeenReading } from './lobe-reading.ts';
export { measureRunOut } from './run-out.ts';
export { type TorqueHabits, tightenJoints } from './torque-adapter.ts';
export { measureValves, type ReadLengths, type ValveHabits, writtenValve } from './valve-lift.ts';
export type { Finished, Work } from './work.ts';
