import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS } from '../../grading/types.ts';
import { FULL_FROM, type LoggedPull, shareOf, type TorqueEntry } from './evidence.ts';
import type { Joint, TorqueAdapterBench, WrittenJoint } from './types.ts';

/** Points of set-up and procedure. Common practice, no source. */
const SET_UP = { inCheck: 8, tested: 4, angle: 10, hand: 8 };
const PROCEDURE = { order: 4, steps: 5, smooth: 4, once: 3, marked: 1, clean: 1, backedOff: 2 };
/** An adapter is set by eye to this. */
const ANGLE_WITHIN_DEG = 5;
/** A half pull is one between these shares of the full setting. */
const HALF_FROM = 0.35;
/** What a setting tool of type II, class A may be off by above 10 N·m: ISO 6789:2003, as a maker's review of it says. */
const CLASS_A = 0.04;

interface JointEvidence {
  readonly position: number;
  readonly joint: Joint;
  readonly written: WrittenJoint;
  readonly pulls: readonly LoggedPull[];
}

/** The wrench in date and, where there is a tester, tried; the adapter as stated; the hand where the length was measured. */
export function checkSetUp(
  bench: TorqueAdapterBench,
  joints: readonly JointEvidence[],
  entries: readonly TorqueEntry[],
): Check[] {
  const pulls = joints.flatMap((one) => one.pulls);
  const worth = FULL_POINTS.setUp / joints.length;
  const unpulled = joints.filter((one) => one.pulls.length === 0);
  const first = pulls[0];
  if (first === undefined)
    return unpulled.map(({ position }) =>
      failed('setUp', worth, { code: 'never-pulled', position, at: null }),
    );
  const before = entries.filter(({ at }) => at < first.at);
  const read = before.some(({ action }) => action.type === 'read-register');
  const overdue = pulls.find(({ wrench }) => bench.wrenches[wrench - 1]?.overdue === true);
  const untested = pulls.find(
    ({ wrench, at }) =>
      !entries.some(
        (entry) => entry.at < at && entry.action.type === 'test-wrench' && entry.before.wrench === wrench,
      ),
  );
  const wrong = pulls.find(({ wrench }) => Math.abs(bench.wrenches[wrench - 1]?.error ?? 0) > CLASS_A);
  const fail = (points: number, code: string, at: number | null, values = {}, met = 0) =>
    failed('setUp', points, { code, position: null, at, values }, met);
  return [
    overdue !== undefined
      ? fail(SET_UP.inCheck, 'wrench-overdue-used', overdue.at, { wrench: overdue.wrench })
      : read
        ? passed('setUp', SET_UP.inCheck)
        : fail(SET_UP.inCheck, 'register-not-read', first.at, {}, 0.5),
    bench.tester && untested !== undefined
      ? fail(SET_UP.tested, 'wrench-not-tested', untested.at, { wrench: untested.wrench })
      : bench.tester && wrong !== undefined
        ? fail(SET_UP.tested, 'wrench-off-used', wrong.at, { wrench: wrong.wrench })
        : passed('setUp', SET_UP.tested),
    ...joints.flatMap((one) => checkAngleAndHand(one, joints.length)),
  ];
}

function checkAngleAndHand({ position, joint, pulls }: JointEvidence, count: number): Check[] {
  const [angle, hand] = [SET_UP.angle / count, SET_UP.hand / count];
  if (pulls.length === 0)
    return [failed('setUp', angle + hand, { code: 'never-pulled', position, at: null })];
  // Left and right are alike.
  const off = ({ angleDeg }: LoggedPull) => {
    const turned = ((Math.abs(angleDeg) % 360) + 360) % 360;
    return Math.abs(Math.min(turned, 360 - turned) - joint.angleDeg);
  };
  const skew = pulls.find((pull) => off(pull) > ANGLE_WITHIN_DEG);
  const moved = pulls.find(({ grip }) => grip !== 'mark');
  return [
    skew === undefined
      ? passed('setUp', angle)
      : failed('setUp', angle, {
          ...{ code: 'adapter-not-as-stated', position, at: skew.at },
          values: { stoodDeg: Math.round(skew.angleDeg), wantedDeg: joint.angleDeg },
        }),
    moved === undefined
      ? passed('setUp', hand)
      : failed('setUp', hand, {
          code: 'hand-off-the-mark',
          position,
          at: moved.at,
          values: { place: moved.grip },
        }),
  ];
}

/** Order, steps, a smooth pull, one click, marks, clean threads; and the wrench backed off at the end. */
export function checkProcedure(
  bench: TorqueAdapterBench,
  joints: readonly JointEvidence[],
  entries: readonly TorqueEntry[],
): Check[] {
  const lastPull = Math.max(-1, ...joints.flatMap(({ pulls }) => pulls.map(({ at }) => at)));
  const backedOff = entries.some(({ at, action }) => at > lastPull && action.type === 'back-off');
  const each = joints.flatMap((one) => checkJoint(bench, one, entries, joints.length));
  if (lastPull < 0) return each;
  return [
    ...each,
    backedOff
      ? passed('procedure', PROCEDURE.backedOff)
      : failed('procedure', PROCEDURE.backedOff, { code: 'wrench-not-backed-off', position: null, at: null }),
  ];
}

function checkJoint(
  bench: TorqueAdapterBench,
  { position, joint, written, pulls }: JointEvidence,
  entries: readonly TorqueEntry[],
  count: number,
): Check[] {
  const share = 1 / count;
  const all = FULL_POINTS.procedure - PROCEDURE.backedOff;
  if (pulls.length === 0)
    return [failed('procedure', all * share, { code: 'never-pulled', position, at: null })];
  const check = (worth: number, bad: LoggedPull | boolean | undefined, code: string, values = {}) =>
    bad === undefined || bad === false
      ? passed('procedure', worth * share)
      : failed('procedure', worth * share, {
          ...{ code, position, at: bad === true ? (pulls[0]?.at ?? null) : bad.at },
          values,
        });
  const shares = pulls.map((pull) => ({ pull, share: shareOf(bench, joint, pull, written.setting) }));
  const full = shares.filter((one) => one.share >= FULL_FROM).map(({ pull }) => pull);
  const half = shares
    .filter((one) => one.share >= HALF_FROM && one.share < FULL_FROM)
    .map(({ pull }) => pull);
  const firstFull = full[0]?.at ?? Number.POSITIVE_INFINITY;
  const halved = new Set(half.filter(({ at }) => at < firstFull).map(({ bolt }) => bolt));
  // A bolt that gives way ends the round: what comes after it cannot be asked for.
  const gaveWay = pulls.some(({ code }) => code === 'turns-on-without-click');
  const end = entries.at(-1)?.step.state.bolts[position - 1] ?? [];
  const dirty = bench.dirty[position - 1] ?? null;
  const inOrder = [half, full].every((round) => isInOrder(round, joint.order));
  return [
    check(PROCEDURE.order, !inOrder, 'not-in-the-order-given'),
    check(PROCEDURE.steps, halved.size < joint.order.length, 'not-in-steps', {
      halved: halved.size,
      bolts: joint.order.length,
    }),
    check(
      PROCEDURE.smooth,
      pulls.find(({ jerked }) => jerked),
      'pulled-with-a-jerk',
    ),
    check(
      PROCEDURE.once,
      pulls.find(({ past, code }) => past || code === 'clicks-at-once'),
      'pulled-past-the-click',
    ),
    check(PROCEDURE.marked, !gaveWay && end.some(({ marked }) => !marked), 'bolts-not-marked'),
    check(
      PROCEDURE.clean,
      dirty !== null &&
        pulls.find(({ bolt, at }) => bolt === dirty && !cleanBefore(entries, position, bolt, at)),
      'threads-left-dirty',
      { bolt: dirty ?? 0 },
    ),
  ];
}

function cleanBefore(entries: readonly TorqueEntry[], joint: number, bolt: number, at: number): boolean {
  return entries.some(
    (entry) =>
      entry.at < at &&
      entry.action.type === 'clean' &&
      entry.action.joint === joint &&
      entry.action.bolt === bolt,
  );
}

/** The first pulls of a round on each bolt follow the order given, as far as it goes. */
function isInOrder(round: readonly LoggedPull[], order: readonly number[]): boolean {
  const seen = [...new Set(round.map(({ bolt }) => bolt))];
  return seen.join() === order.slice(0, seen.length).join();
}
