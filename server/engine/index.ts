/**
 * The measuring engine's front door: nothing outside the engine reaches past it. Pure: no I/O, no clock, no chance but the seed's.
 * Lengths inside are millimetres; a reading belongs to a dial, in that dial's unit.
 */

export {
  cosineFactor,
  type Misalignment,
  shownAlong,
  shownLeaning,
  trueFromShown,
  type UnitVector,
} from './alignment/cosine-error.ts';
export {
  type ActionOf,
  type AnyAction,
  type AnyBench,
  type AnyBrief,
  type AnyDefinition,
  type AnySeen,
  type AnySheet,
  type AnyState,
  type AnyView,
  actOn as act,
  type BenchOf,
  type BriefOf,
  briefOfBench as brief,
  type DefinitionOf,
  generateBench,
  gradeAttempt,
  isKind,
  KIND_NAMES,
  type KindName,
  lookAt,
  type SeenOf,
  type SheetOf,
  type StateOf,
  startBench,
  type ViewOf,
} from './bench.ts';
export type { GaugeSeen } from './bench-parts/kind.ts';
export type {
  GaugeAction,
  GaugeCannot,
  GaugeSaid,
  GaugeSaidCode,
  GaugeSample,
  GaugeView,
  SetLimits,
} from './bench-parts/types.ts';
export {
  type DecisionRule,
  type GuardedVerdict,
  type JudgedVerdict,
  type JudgeLimits,
  type Judgement,
  judge,
  type Uncertainty,
} from './decision/judge.ts';
export { explainReading, type LikelyMistake, liftFromBoxes } from './diagnosis/explain-reading.ts';
export type { Mistake, ShownReading, WrittenBoxes } from './diagnosis/hypotheses.ts';
export { type Naming, nameMistake } from './diagnosis/name-mistake.ts';
export { DIALS, type Dial, type DialName, graduationsPerTurn, type SetDial } from './dial/dial.ts';
export { type ParsedLength, parseLength } from './dial/parse-length.ts';
export { type DialReading, readDial } from './dial/read-dial.ts';
export { CYCLE_DEG, FIRING_ORDERS, firingTdcDeg } from './drive/firing.ts';
export type {
  BacklashAction,
  BacklashBrief,
  BacklashDefinition,
  BacklashSheet,
  BacklashVerdict,
  BacklashView,
} from './exercises/backlash/types.ts';
export { judgeBacklash } from './exercises/backlash/verdict.ts';
export { levelDepths, slantedSpan } from './exercises/bore-gauge/geometry.ts';
export type {
  BoreAction,
  BoreAxis,
  BoreBrief,
  BoreDefinition,
  BoreLevel,
  BoreLimits,
  BoreSheet,
  BoreVerdict,
  RingTravel,
  WrittenBore,
} from './exercises/bore-gauge/types.ts';
export {
  type BoreDiameter,
  type BoreResults,
  boreDiameter,
  boreResults,
  judgeBore,
} from './exercises/bore-gauge/verdict.ts';
export type { CamLiftBench } from './exercises/cam-lift/bench.ts';
export {
  type CamInside,
  type CamSection,
  camSection,
  camSectionRun,
} from './exercises/cam-lift/inside.ts';
export type { CamLiftState } from './exercises/cam-lift/state.ts';
export type {
  CamLiftAction,
  CamLiftBrief,
  CamLiftDefinition,
  CamLiftSeen,
  CamLiftSheet,
  CamLiftView,
  FollowUp,
  NoteBox,
  Perception,
  RigPart,
  RollerVerdict,
  Sample,
  Specification,
  Verdict,
  WrittenLobe,
  WrittenReading,
} from './exercises/cam-lift/types.ts';
export { DRILLED_SKILLS, observationsFromDrill } from './exercises/dial-reading/observations.ts';
export type {
  DialReadingAction,
  DialReadingBench,
  DialReadingBrief,
  DialReadingDefinition,
  DialReadingSheet,
  DialReadingView,
  WrittenDrill,
} from './exercises/dial-reading/types.ts';
export type {
  EndPlayAction,
  EndPlayBrief,
  EndPlayDefinition,
  EndPlaySheet,
  EndPlayView,
} from './exercises/end-play/types.ts';
export type {
  FaultAnswer,
  FaultFindingBrief,
  FaultFindingDefinition,
  FaultFindingSheet,
} from './exercises/fault-finding/types.ts';
export { errorsOf, indicatorFigures, judgeIndicator } from './exercises/indicator-check/figures.ts';
export type {
  IndicatorCheckAction,
  IndicatorCheckBrief,
  IndicatorCheckDefinition,
  IndicatorCheckLimits,
  IndicatorCheckSheet,
  WrittenPoint,
} from './exercises/indicator-check/types.ts';
export type {
  CheckingLift,
  LiftCurveAction,
  LiftCurveBrief,
  LiftCurveDefinition,
  LiftCurveLimits,
  LiftCurveSheet,
  LiftCurveVerdict,
} from './exercises/lift-curve/types.ts';
export { judgeLiftCurve } from './exercises/lift-curve/verdict.ts';
export type {
  LinerAction,
  LinerBrief,
  LinerDefinition,
  LinerLimits,
  LinerSheet,
  LinerVerdict,
  LinerView,
  WrittenLiner,
} from './exercises/liner-protrusion/types.ts';
export { judgeLiner, judgeStep, largestStep } from './exercises/liner-protrusion/verdict.ts';
export {
  type BoreReadings,
  boreRunOut,
  eccentricityFrom,
  totalReading,
} from './exercises/run-out/total-reading.ts';
export type {
  RunOutAction,
  RunOutBrief,
  RunOutDefinition,
  RunOutSheet,
  RunOutView,
  WrittenRunOut,
} from './exercises/run-out/types.ts';
export { convertTorque, type TorqueUnit } from './exercises/torque-adapter/torque-units.ts';
export type {
  GripPlace,
  TorqueAdapterAction,
  TorqueAdapterBrief,
  TorqueAdapterDefinition,
  TorqueAdapterSheet,
  TorqueCannot,
  TorqueSaid,
  TorqueSaidCode,
  TorqueVerdict,
  WrittenJoint,
} from './exercises/torque-adapter/types.ts';
export { noseDeg, rockerRatio, valveLift } from './exercises/valve-lift/train.ts';
export type {
  TappetKind,
  Valve,
  ValveAction,
  ValveBrief,
  ValveDefinition,
  ValveLimits,
  ValveName,
  ValvePlace,
  ValveSheet,
  ValveSpecification,
  WrittenValve,
} from './exercises/valve-lift/types.ts';
export {
  CRITERIA,
  type Criterion,
  FULL_POINTS,
  type Grade,
  type ItemOutcome,
  type LobeOutcome,
  type NamedMistake,
  type Remark,
  type Stop,
  type TraceMark,
  type TraceRun,
} from './grading/types.ts';
export {
  isKnown,
  KNOWN_FROM,
  type Learner,
  type LearnerParameters,
  learn,
  type Observation,
  type SkillParameters,
  startLearner,
  USUAL_PARAMETERS,
} from './learner/knowledge-tracing.ts';
export { type NextDrill, nextDrill } from './learner/next-drill.ts';
export { observationsFrom } from './learner/observations.ts';
export { observationsFromReading } from './learner/reading-drill.ts';
export { SKILLS, type Skill } from './learner/skills.ts';
export { type LobeEvent, lobeEvent } from './lobe/event.ts';
export { displacementMm, type Lobe, SOUND as SOUND_LOBE } from './lobe/lift-curve.ts';
export { type MotionLaw, type MotionLawName, motionLaw } from './lobe/motion-law.ts';
export {
  explainSetUp,
  type LikelyFault,
  type SetUpDiagnosis,
  type SetUpEvidence,
} from './set-up/explain-set-up.ts';
export type { SetUpFault } from './set-up/faults.ts';
export { type SetUpHint, setUpHint, type TellingTest } from './set-up/set-up-hint.ts';
export type { SeenAction } from './set-up/sight.ts';
export type { SignCode } from './set-up/sign-table.ts';
export type { AverageAndRange, CellRange, RangeChart } from './statistics/average-and-range.ts';
export type { StudyReading } from './statistics/crossed-readings.ts';
export { coverageFactor } from './statistics/distributions.ts';
export {
  type Component,
  type GaugeStudy,
  type GaugeStudyOptions,
  gaugeStudy,
  type VarianceStudy,
} from './statistics/gauge-study.ts';
export { type OneWay, oneWay, type VarianceLine } from './statistics/one-way.ts';
export { median, type Summary, summarise } from './statistics/summary.ts';
export { torqueSetting } from './torque/torque-setting.ts';
export {
  type BudgetLine,
  type BudgetPart,
  type Coverage,
  type UncertaintyBudget,
  uncertaintyBudget,
} from './uncertainty/budget.ts';
export {
  indicatorErrorPart,
  leanPart,
  repeatabilityPart,
  resolutionPart,
  zeroReturnPart,
} from './uncertainty/dial-indicator.ts';
export {
  findIndicatorLimits,
  INDICATOR_LIMITS,
  type IndicatorBuild,
  type IndicatorLimits,
} from './uncertainty/indicator-limits.ts';
export { convertLength, fromMm, type LengthUnit, MM_PER_IN, NM_PER_LBF_FT, toMm } from './units.ts';
export { ENGINE_VERSION } from './version.ts';
