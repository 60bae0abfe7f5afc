import { checkItemVerdicts } from '../../bench-parts/verdict-checks.ts';
import { type Check, failed, passed, scored } from '../../grading/tally.ts';
import {
  FULL_POINTS,
  type Grade,
  type ItemOutcome,
  type NamedMistake,
  type Stop,
} from '../../grading/types.ts';
import type { FollowUp } from '../cam-lift/types.ts';
import { nameSetting, settingFor } from './diagnose.ts';
import {
  foldTorque,
  type LoggedPull,
  perceivedVerdict,
  pullsOn,
  type TorqueEntry,
  trueVerdict,
  wantedAt,
} from './evidence.ts';
import { checkProcedure, checkSetUp } from './evidence-checks.ts';
import { startTorqueAdapter } from './step.ts';
import { NM_PER } from './torque-units.ts';
import type {
  Joint,
  TorqueAdapterAction,
  TorqueAdapterBench,
  TorqueAdapterSheet,
  WrittenJoint,
} from './types.ts';

/** Shares of a joint's reading points. Common practice, no source. */
const WORTH = { setting: 0.6, asWritten: 0.2, unit: 0.1, order: 0.1 };
/** A setting counts in full to this share of the right one, by half to twice it: what a scale can be set to. Common practice, no source. */
const SETTING_WITHIN = 0.01;

interface JointEvidence {
  readonly position: number;
  readonly joint: Joint;
  readonly written: WrittenJoint;
  readonly pulls: readonly LoggedPull[];
}

/** Grades a tightening job: a pure function of bench, actions and written sheet. */
export function gradeTorqueAdapter(
  bench: TorqueAdapterBench,
  actions: readonly TorqueAdapterAction[],
  sheet: TorqueAdapterSheet,
): Grade {
  const entries = foldTorque(bench, actions);
  const joints = bench.joints.map((joint, index): JointEvidence => {
    const position = index + 1;
    const blank = { joint: position, setting: null, unit: null, order: [], verdict: null, next: null };
    const written = sheet.joints.find((one) => one.joint === position) ?? blank;
    return { position, joint, written, pulls: pullsOn(entries, position) };
  });
  const readings = joints.map((one) => checkReading(bench, one, FULL_POINTS.reading / joints.length));
  const items = joints.map((one) => verdictItem(bench, one, entries));
  const verdicts = checkItemVerdicts(items, FULL_POINTS.verdict / joints.length, rightNext);
  const checks = [
    ...checkSetUp(bench, joints, entries),
    ...checkProcedure(bench, joints, entries),
    ...readings.flatMap((reading) => reading.checks),
    ...verdicts.checks,
  ];
  return {
    ...scored(checks),
    outOf: FULL_POINTS,
    stops: [...readings.flatMap(({ stops }) => stops), ...verdicts.stops],
    mistakes: readings.flatMap(({ mistakes }) => mistakes),
    lobes: [],
    items: joints.map((one) => outcomeOf(bench, one, entries)),
    trace: [],
  };
}

function checkReading(
  bench: TorqueAdapterBench,
  { position, joint, written, pulls }: JointEvidence,
  points: number,
): {
  readonly checks: readonly Check[];
  readonly mistakes: readonly NamedMistake[];
  readonly stops: readonly Stop[];
} {
  const fail = (worth: number, code: string, values = {}, met = 0) =>
    failed('reading', points * worth, { code, position, at: null, values }, met);
  if (pulls.length === 0 && (written.verdict !== null || written.order.length > 0)) {
    const stop: Stop = { code: 'reading-without-measurement', position, at: null, values: { pulled: false } };
    return { checks: [fail(1, 'result-without-measurement')], mistakes: [], stops: [stop] };
  }
  const order = written.order.join();
  const checks = [
    written.unit === null
      ? fail(WORTH.unit, 'result-not-written', { box: 'unit' })
      : written.unit === bench.scale.unit
        ? passed('reading', points * WORTH.unit)
        : fail(WORTH.unit, 'unit-not-the-scale', { written: written.unit, right: bench.scale.unit }),
    order === ''
      ? fail(WORTH.order, 'result-not-written', { box: 'order' })
      : order === orderDone(pulls, written.order).join()
        ? passed('reading', points * WORTH.order)
        : fail(WORTH.order, 'order-not-as-done', { done: orderDone(pulls, []).map(String) }),
    checkAsWritten(written, pulls, (code, values) => fail(WORTH.asWritten, code, values)) ??
      passed('reading', points * WORTH.asWritten),
  ];
  if (written.setting === null)
    return {
      checks: [fail(WORTH.setting, 'result-not-written', { box: 'setting' }), ...checks],
      mistakes: [],
      stops: [],
    };
  const own = pulls.at(-1)?.angleDeg ?? joint.angleDeg;
  // An adapter that stood otherwise has been charged; what was worked out for it is right.
  const rights = [settingFor(bench, joint), wantedAt(bench, joint, own)].filter((one) => one !== null);
  const off = Math.min(...rights.map((right) => Math.abs((written.setting ?? 0) / right - 1)));
  const allowed = SETTING_WITHIN + bench.scale.step / (2 * Math.min(...rights));
  if (off <= allowed + 1e-9)
    return { checks: [passed('reading', points * WORTH.setting), ...checks], mistakes: [], stops: [] };
  const offPercent = Math.round(1000 * (written.setting / (rights[0] ?? 1) - 1)) / 10;
  const check = fail(WORTH.setting, 'setting-off', { offPercent }, off <= 2 * allowed ? 0.5 : 0);
  return {
    checks: [check, ...checks],
    mistakes: [nameSetting(bench, position, joint, written.setting)],
    stops: [],
  };
}

/** The full setting written, against what the wrench stood at for the last pulls. */
function checkAsWritten(
  { setting }: WrittenJoint,
  pulls: readonly LoggedPull[],
  fail: (code: string, values?: object) => Check,
): Check | null {
  const highest = Math.max(...pulls.map((pull) => pull.setting));
  if (setting === null) return fail('set-without-writing');
  if (pulls.length === 0) return fail('never-pulled');
  return Math.abs(highest / setting - 1) <= SETTING_WITHIN
    ? null
    : fail('set-otherwise-than-written', { set: highest, written: setting });
}

/** Bolts in the order of their first pull; where one gave way, those that nobody could go on to as they were written. */
function orderDone(pulls: readonly LoggedPull[], written: readonly number[]): number[] {
  const done = [...new Set(pulls.map(({ bolt }) => bolt))];
  const gaveWay = pulls.some(({ code }) => code === 'turns-on-without-click');
  return gaveWay ? [...done, ...written.slice(done.length)] : done;
}

function verdictItem(bench: TorqueAdapterBench, evidence: JointEvidence, entries: readonly TorqueEntry[]) {
  const { position, joint, written } = evidence;
  const perceived = perceivedVerdict(bench, joint, position, entries, written);
  const end = entries.at(-1)?.step.state ?? startTorqueAdapter(bench);
  return {
    ...{ item: position, run: null, results: [], written, fromWritten: perceived, fromShown: perceived },
    ...{ truly: trueVerdict(joint, end, position), setUpsAgree: perceived === 'turns-on', truth: {} },
  };
}

/** A bolt that turned on is replaced; a joint too loose or too tight is loosened and tightened again. */
function rightNext(verdict: string): readonly FollowUp[] {
  return verdict === 'turns-on' ? ['replace'] : ['measure-again'];
}

function outcomeOf(
  bench: TorqueAdapterBench,
  { position, joint, written, pulls }: JointEvidence,
  entries: readonly TorqueEntry[],
): ItemOutcome {
  const end = entries.at(-1)?.step.state ?? startTorqueAdapter(bench);
  const torques = (end.bolts[position - 1] ?? []).map(({ torqueNm }) => torqueNm / NM_PER[joint.unit]);
  const rounded = (value: number | null) => (value === null ? null : Math.round(value * 100) / 100);
  // A bolt that was stretched before makes a joint bad, whether anybody found it or not.
  const stretched = bench.stretched[position - 1] !== null;
  return {
    item: position,
    truth: {
      setting: rounded(settingFor(bench, joint)) ?? 0,
      'least-torque': rounded(Math.min(...torques)) ?? 0,
      'largest-torque': rounded(Math.max(...torques)) ?? 0,
    },
    trueVerdict: pulls.length === 0 ? (stretched ? 'turns-on' : 'inside') : trueVerdict(joint, end, position),
    shown: { setting: pulls.length === 0 ? null : Math.max(...pulls.map(({ setting }) => setting)) },
    written: { setting: written.setting },
    writtenVerdict: written.verdict,
    writtenNext: written.next,
  };
}
