import type { FastifyInstance } from 'fastify';
import { engineRoutes } from './engine-routes.ts';
import { gaugeRoutes } from './gauge-routes.ts';

export type { ShopEngineContent, Torque } from './engine-form.ts';
export {
  getEngine,
  type LobeReference,
  listEngines,
  listReferences,
  type ShopEngine,
  USUAL_GRADUATION,
} from './engines.ts';
export { type Fitness, fitnessOf, getGauge, listGauges, type ShopGauge } from './gauges.ts';
export {
  HOLDS_DAYS,
  type Reference,
  type ReferenceState,
  referenceIn,
  referenceOf,
  referenceState,
  SPREAD,
} from './reference.ts';

/** The real engines of the shop, and its gauges and wrenches with their checks. */
export async function shop(app: FastifyInstance): Promise<void> {
  engineRoutes(app);
  gaugeRoutes(app);
}
