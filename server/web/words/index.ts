/** Every code the measuring engine can say, in words. English; one catalogue. */
export { actionWords, barringWords } from './actions.ts';
export {
  BOX_WORDS,
  CONDITION_WORDS,
  CRITERION_WORDS,
  FOLLOW_UP_WORDS,
  RIG_PART_WORDS,
  ROLLER_VERDICT_WORDS,
  ROLLER_WORDS,
  TAPPET_WORDS,
  TRACE_MARK_WORDS,
  VERDICT_WORDS,
  wordsFor,
  ZERO_PLACE_WORDS,
} from './codes.ts';
export { drillMistakeWords, drillStopWords } from './dial-reading.ts';
export { dialWords } from './dials.ts';
export { FAULT_WORDS, SET_UP_FAULT_WORDS } from './fault-words.ts';
export { GAUGE_ACTION_WORDS, preloadWords } from './gauge-actions.ts';
export { boxWords, GAUGED_SAID_CODES, GAUGED_VERDICT_WORDS, gaugedPerceptionWords } from './gauged-codes.ts';
export {
  GAUGED_MISTAKES,
  GAUGED_REMARK_CODES,
  gaugedMistakeClause,
  gaugedMistakeWords,
  gaugedRemarkWords,
  isGaugedRemarkCode,
} from './gauged-remarks.ts';
export {
  decimalsOf,
  fineLengthWords,
  graduationWords,
  lengthWords,
  limitWords,
  nominalWords,
} from './lengths.ts';
export { mistakeClause, mistakeWords } from './mistakes.ts';
export { perceptionWords } from './perceptions.ts';
export { isRemarkCode, REMARK_CODES, type RemarkCode, remarkWords } from './remarks.ts';
export { SIGN_WORDS } from './sign-words.ts';
export { gaugedStopWords, stopWords } from './stops.ts';
export { dayWords, lengthOfTime, timeWords } from './times.ts';
export {
  TORQUE_CAUTIONS,
  TORQUE_SAID_CODES,
  torquePerceptionWords,
  torqueUnitWords,
} from './torque-codes.ts';
export { type About, placed, placeWords, type Words } from './types.ts';
