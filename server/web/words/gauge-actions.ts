/** What is done to any indicator on a stand, as a line of the log. */
export const GAUGE_ACTION_WORDS = {
  'lift-tip': 'Lifted the tip and let it down.',
  zero: 'Turned the bezel to zero.',
  clamp: 'Clamped the bezel.',
  unclamp: 'Freed the bezel.',
} as const;

/** Setting an indicator down, whatever it stands on. */
export const preloadWords = (turns: number) => `Set the indicator with ${turns} of a turn of preload.`;
