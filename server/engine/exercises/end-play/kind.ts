import { gaugedKind } from '../../bench-parts/kind.ts';
import { generateEndPlay } from './generate.ts';
import { gradeEndPlay } from './grade.ts';
import type {
  EndPlayBench,
  EndPlayBrief,
  EndPlayDefinition,
  EndPlayOwnAction,
  EndPlaySheet,
  EndPlayState,
  EndPlayView,
} from './types.ts';
import { endPlayWork, startEndPlay } from './work.ts';

/** End play: pry one way, zero, pry the other, read the whole movement. */
export const endPlay = gaugedKind<
  EndPlayDefinition,
  EndPlayBench,
  EndPlayState,
  EndPlayOwnAction,
  EndPlayView,
  EndPlayBrief,
  EndPlaySheet
>({
  work: endPlayWork,
  generate: generateEndPlay,
  start: startEndPlay,
  see: (_bench, _state, gauge) => ({ kind: 'end-play', ...gauge }),
  brief: ({ name, subject, dialName, dial, specification }) => ({
    kind: 'end-play',
    name,
    subject,
    dialName,
    dial,
    specification,
  }),
  grade: gradeEndPlay,
});
