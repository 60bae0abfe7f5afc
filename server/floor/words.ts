import type { FloorState } from './state.ts';

export const STATE_WORDS: Readonly<Record<FloorState, string>> = {
  waiting: 'waiting',
  'out-of-tries': 'out of tries',
  stuck: 'stuck',
  idle: 'idle',
  working: 'working',
  'handed-in': 'handed in',
  'not-begun': 'not begun',
};
