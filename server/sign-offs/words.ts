import type { StepState } from './tables.ts';

export const STEP_STATES: readonly { readonly value: StepState; readonly text: string }[] = [
  { value: 'alone', text: 'alone' },
  { value: 'with-prompt', text: 'with a prompt' },
  { value: 'not-done', text: 'not done' },
  { value: 'not-seen', text: 'not seen' },
];
