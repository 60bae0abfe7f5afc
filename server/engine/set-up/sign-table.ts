import type { SetUpFault } from './faults.ts';

/** What the gauge may show, a hand feel or an ear hear. */
export type SignCode =
  | 'dull-stop'
  | 'far-up'
  | 'slot-was-off'
  | 'drops-before-barring'
  | 'drops-lower-than-ever'
  | 'drops-after-the-lobe'
  | 'let-go-with-a-click'
  | 'stays-up'
  | 'nothing-moves'
  | 'sets-off-suddenly'
  | 'leans-seen'
  | 'tip-seen-in-hole'
  | 'arm-gave'
  | 'base-gave'
  | 'rod-gave'
  | 'steps-at-compression'
  | 'tip-shifts'
  | 'tip-shifts-both-ways'
  | 'zero-moves-with-the-lobe'
  | 'stood-above-its-lowest'
  | 'runs-backwards-from-zero'
  | 'nothing-under-the-tip'
  | 'tip-left-the-work'
  | 'stopped-dead'
  | 'barred-unclamped'
  | 'face-turned'
  | 'barred-back'
  | 'low-against-the-others'
  | 'high-against-the-others';

/** How likely a sign is: with nothing of the kind wrong (`leak`), and through each fault that brings it. */
export interface SignRow {
  readonly leak: number;
  readonly from: Readonly<Partial<Record<SetUpFault, number>>>;
}

/**
 * The signs of each fault, as the trade knows them: common practice, no source. Chances that hang on how often something was
 * done are given with the sign itself. A sign through several faults at once is a "noisy or": it stays away only where each of them fails to bring it.
 */
export const SIGN_TABLE: Readonly<Record<SignCode, SignRow>> = {
  'dull-stop': { leak: 0.0005, from: { 'tappet-hung': 0.99 } },
  'far-up': { leak: 0.0005, from: { 'slot-off-pin': 0.99 } },
  'slot-was-off': { leak: 0.0005, from: { 'slot-off-pin': 0.99 } },
  'drops-before-barring': { leak: 0.002, from: { 'tappet-hung': 0.98 } },
  'drops-lower-than-ever': { leak: 0.002, from: { 'tappet-hung': 0.9, 'tappet-sticky': 0.05 } },
  'drops-after-the-lobe': { leak: 0.002, from: { 'tappet-sticky': 0.95 } },
  'let-go-with-a-click': { leak: 0.001, from: { 'tappet-sticky': 0.5 } },
  'stays-up': { leak: 0.002, from: { 'tappet-sticky': 0.95, 'rod-loose': 0.02 } },
  'nothing-moves': { leak: 0.0005, from: { 'slot-off-pin': 0.9, 'tappet-sticky': 0.2 } },
  'sets-off-suddenly': {
    leak: 0.002,
    from: {
      'tappet-hung': 0.97,
      'slot-off-pin': 0.3,
      'no-preload': 0.6,
      'tappet-sticky': 0.3,
      'zero-on-nose': 0.1,
    },
  },
  'leans-seen': { leak: 0.001, from: { 'indicator-leans': 0.99, 'tip-caught': 0.99 } },
  'tip-seen-in-hole': { leak: 0.0005, from: { 'tip-caught': 0.99 } },
  'arm-gave': { leak: 0.0005, from: { 'arm-loose': 0.99 } },
  'base-gave': { leak: 0.0005, from: { 'base-loose': 0.99 } },
  'rod-gave': { leak: 0.0005, from: { 'rod-loose': 0.99 } },
  'steps-at-compression': { leak: 0.0002, from: {} },
  'tip-shifts': { leak: 0.002, from: {} },
  'tip-shifts-both-ways': { leak: 0.0005, from: { 'rod-loose': 0.4 } },
  'zero-moves-with-the-lobe': {
    leak: 0.004,
    from: {
      'rod-loose': 0.85,
      'travel-ran-out': 0.7,
      'tappet-sticky': 0.2,
      'tappet-hung': 0.2,
      'arm-loose': 0.15,
      'base-loose': 0.15,
      'no-preload': 0.3,
    },
  },
  'stood-above-its-lowest': {
    leak: 0.004,
    from: { 'zero-on-ramp': 0.98, 'tappet-sticky': 0.2, 'rod-loose': 0.05, 'travel-ran-out': 0.1 },
  },
  'runs-backwards-from-zero': { leak: 0.001, from: { 'zero-on-nose': 0.98, 'tappet-sticky': 0.1 } },
  'nothing-under-the-tip': { leak: 0.002, from: { 'no-preload': 0.98, 'tappet-hung': 0.4 } },
  'tip-left-the-work': {
    leak: 0.002,
    from: { 'no-preload': 0.95, 'tappet-hung': 0.4, 'tappet-sticky': 0.3, 'zero-on-nose': 0.1 },
  },
  'stopped-dead': { leak: 0.001, from: { 'travel-ran-out': 0.99 } },
  'barred-unclamped': { leak: 0.002, from: { 'bezel-not-clamped': 0.99 } },
  'face-turned': { leak: 0.0005, from: { 'bezel-not-clamped': 0.9 } },
  'barred-back': { leak: 0.002, from: { 'backed-up': 0.99 } },
  'low-against-the-others': {
    leak: 0.25,
    from: { 'tappet-hung': 0.9, 'no-preload': 0.4, 'tip-caught': 0.4, 'slot-off-pin': 0.9 },
  },
  'high-against-the-others': { leak: 0.12, from: { 'indicator-leans': 0.5 } },
};
