import { type Lobe, SOUND_LOBE, toMm } from '../../server/engine/index.ts';

/** A usual injection lobe: a short rise, a long fall. Common practice, no source. */
export const USUAL_LOBE: Lobe = {
  law: 'polynomial-3-4-5',
  liftMm: toMm(0.237, 'in'),
  riseCamDeg: 50,
  dwellCamDeg: 6,
  fallCamDeg: 95,
  noseCrankDeg: 0,
  condition: SOUND_LOBE,
};
