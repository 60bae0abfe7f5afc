/** What may be wrong with a set-up before anybody measures: hidden until it is looked for. */
export type HiddenFault =
  | 'tappet-hung'
  | 'slot-off-pin'
  | 'tappet-sticky'
  | 'indicator-leans'
  | 'tip-caught'
  | 'arm-loose'
  | 'base-loose'
  | 'rod-loose';

/** What can be wrong with the set-up of a cam-lift measurement: hidden, or made by whoever measures. */
export type SetUpFault =
  | HiddenFault
  | 'zero-on-ramp'
  | 'zero-on-nose'
  | 'no-preload'
  | 'travel-ran-out'
  | 'bezel-not-clamped'
  | 'backed-up';

/**
 * How often each is so at one pump position. The first eight as `exercises/cam-lift/` draws them for two positions (tappets 0.4,
 * indicator, stand and rod 0.3); the others are made by the student: common practice, no source.
 */
export const FAULT_PRIORS: Readonly<Record<SetUpFault, number>> = {
  'tappet-hung': 0.08,
  'slot-off-pin': 0.04,
  'tappet-sticky': 0.08,
  'indicator-leans': 0.05,
  'tip-caught': 0.017,
  'arm-loose': 0.0225,
  'base-loose': 0.0225,
  'rod-loose': 0.0375,
  'zero-on-ramp': 0.04,
  'zero-on-nose': 0.01,
  'no-preload': 0.03,
  'travel-ran-out': 0.02,
  'bezel-not-clamped': 0.06,
  'backed-up': 0.04,
};

export const SET_UP_FAULTS = Object.keys(FAULT_PRIORS) as readonly SetUpFault[];
