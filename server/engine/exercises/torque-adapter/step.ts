import { NM_PER } from './torque-units.ts';
import type {
  BoltState,
  GripPlace,
  TorqueAdapterAction,
  TorqueAdapterBench,
  TorqueAdapterState,
  TorqueCannot,
  TorqueSaid,
  TorqueSaidCode,
} from './types.ts';

type Bench = TorqueAdapterBench;
type State = TorqueAdapterState;

/** Hand to square, as a share of the length it was measured to. Common practice, no source. */
const HAND_AT: Readonly<Record<GripPlace, number>> = { mark: 1, choked: 0.75, end: 1.15 };
/** Up to this speed a pull is smooth: the standard asks for the last fifth to take half a second or more. */
export const SMOOTH_SPEED = 0.5;
/** What the fastest jerk, and pulling on after the click, add. Common practice, no source. */
const JERK_ADDS = 0.18;
const PAST_ADDS = 0.1;

/** One pull on a bolt, with what it gave. */
export interface Pull {
  readonly joint: number;
  readonly bolt: number;
  readonly wrench: number;
  readonly setting: number;
  readonly angleDeg: number;
  readonly grip: GripPlace;
  /** What jerk and pulling on made of the torque, 1 for neither. */
  readonly overshoot: number;
  readonly jerked: boolean;
  readonly past: boolean;
  readonly code: TorqueSaidCode;
}

export interface TorqueStep {
  readonly state: State;
  readonly said: readonly TorqueSaid[];
  readonly pull: Pull | null;
}

export function startTorqueAdapter({ joints, startSetting }: Bench): State {
  const loose: BoltState = {
    torqueNm: 0,
    gaveWay: false,
    cleaned: false,
    marked: false,
    ranDown: false,
    clicked: false,
  };
  return {
    ...{ actions: 0, wrench: null, registerRead: false, angleDeg: null, setting: startSetting, grip: 'mark' },
    bolts: joints.map(({ order }) => order.map(() => loose)),
    at: null,
  };
}

/**
 * One action. Whatever is sent, however odd, is a finding and never an exception: what cannot be done leaves the job as it was and says
 * why. The state given is left alone.
 */
export function stepTorque(bench: Bench, before: State, action: TorqueAdapterAction): TorqueStep {
  const state = { ...before, actions: before.actions + 1 };
  if (typeof action !== 'object' || action === null) return cannot(state, 'unknown-action');
  switch (action.type) {
    case 'read-register': {
      const said = bench.wrenches.map(({ overdue }, index) => ({
        code: overdue ? ('wrench-overdue' as const) : ('wrench-in-check' as const),
        wrench: index + 1,
      }));
      return { state: { ...state, registerRead: true }, said, pull: null };
    }
    case 'take-wrench':
      if (bench.wrenches[action.wrench - 1] === undefined) return cannot(state, 'no-such-place');
      return done({ ...state, wrench: action.wrench, setting: bench.startSetting }, 'wrench-taken');
    case 'set-adapter':
      if (!Number.isFinite(action.angleDeg)) return cannot(state, 'not-a-number');
      return done({ ...state, angleDeg: action.angleDeg }, 'adapter-set');
    case 'set-wrench':
      return setWrench(bench, state, action.setting);
    case 'test-wrench':
      return testWrench(bench, state);
    case 'grip':
      if (typeof action.place !== 'string' || !Object.hasOwn(HAND_AT, action.place))
        return cannot(state, 'no-such-place');
      return done({ ...state, grip: action.place }, 'hand-moved');
    case 'back-off':
      if (state.wrench === null) return cannot(state, 'no-wrench');
      return done({ ...state, setting: bench.scale.least }, 'backed-off');
    case 'note':
      return Number.isInteger(action.item) && typeof action.box === 'string'
        ? done(state, 'noted')
        : cannot(state, 'unknown-action');
    case 'run-down':
    case 'clean':
    case 'loosen':
    case 'mark':
    case 'pull':
      return atBolt(bench, state, action);
    default:
      return cannot(state, 'unknown-action');
  }
}

function done(state: State, code: TorqueSaidCode): TorqueStep {
  return { state, said: [{ code }], pull: null };
}

function cannot(state: State, why: TorqueCannot): TorqueStep {
  return { state, said: [{ code: 'cannot', why }], pull: null };
}

function setWrench({ scale }: Bench, state: State, setting: number): TorqueStep {
  if (state.wrench === null) return cannot(state, 'no-wrench');
  if (!Number.isFinite(setting)) return cannot(state, 'not-a-number');
  if (setting < scale.least || setting > scale.most) return cannot(state, 'off-the-scale');
  return done({ ...state, setting }, 'wrench-set');
}

/** The tester takes the place of adapter and bolt: where the hand is does not matter. */
function testWrench({ tester, wrenches, scale }: Bench, state: State): TorqueStep {
  if (!tester) return cannot(state, 'no-tester');
  const wrench = wrenches[(state.wrench ?? 0) - 1];
  if (wrench === undefined) return cannot(state, 'no-wrench');
  const torque = Math.round((state.setting * (1 + wrench.error) * 10) / scale.step) * (scale.step / 10);
  return { state, said: [{ code: 'tester-reads', torque: Number(torque.toFixed(3)) }], pull: null };
}

const LOOSE = { torqueNm: 0, marked: false, ranDown: false, clicked: false } as const;

type AtBolt = Extract<TorqueAdapterAction, { readonly bolt: number }>;

function atBolt(bench: Bench, state: State, action: AtBolt): TorqueStep {
  const bolt = state.bolts[action.joint - 1]?.[action.bolt - 1];
  if (bolt === undefined) return cannot(state, 'no-such-place');
  const here = { ...state, at: { joint: action.joint, bolt: action.bolt } };
  const becomes = (change: Partial<BoltState>): State => ({
    ...here,
    bolts: state.bolts.map((joint, j) =>
      j === action.joint - 1
        ? joint.map((one, b) => (b === action.bolt - 1 ? { ...one, ...change } : one))
        : joint,
    ),
  });
  switch (action.type) {
    case 'run-down': {
      const dirty = bench.dirty[action.joint - 1] === action.bolt && !bolt.cleaned;
      return done(becomes({ ranDown: true }), dirty ? 'runs-stiffly' : 'runs-freely');
    }
    case 'clean':
      return done(becomes({ ...LOOSE, cleaned: true }), 'threads-cleaned');
    case 'loosen':
      return done(becomes(LOOSE), 'loosened');
    case 'mark':
      return done(becomes({ marked: true }), 'marked');
    case 'pull':
      return pullOn(bench, state, action, bolt, becomes);
  }
}

/**
 * A click wrench trips at a moment about its square: force times hand to square. The fastener gets force times hand to fastener, so
 * setting × (hand + E cos a) / hand, wherever the hand is. Source: US Army TM 9-254, figure 46, with the hand at L.
 */
function pullOn(
  bench: Bench,
  state: State,
  { joint, bolt, speed, past }: AtBolt & { readonly type: 'pull' },
  was: BoltState,
  becomes: (change: Partial<BoltState>) => State,
): TorqueStep {
  const wrench = bench.wrenches[(state.wrench ?? 0) - 1];
  if (state.wrench === null || wrench === undefined) return cannot(state, 'no-wrench');
  if (state.angleDeg === null) return cannot(state, 'no-adapter');
  if (!(speed > 0 && speed <= 1)) return cannot(state, 'not-a-number');
  const hand = bench.gripLength * HAND_AT[state.grip];
  const lever = (hand + bench.adapterLength * Math.cos((state.angleDeg * Math.PI) / 180)) / hand;
  if (lever <= 1e-9) return cannot(state, 'reaches-past-the-hand');
  const jerked = speed > SMOOTH_SPEED;
  const overshoot =
    1 +
    (jerked ? (JERK_ADDS * (speed - SMOOTH_SPEED)) / (1 - SMOOTH_SPEED) : 0) +
    (past === true ? PAST_ADDS : 0);
  const givenNm = state.setting * NM_PER[bench.scale.unit] * (1 + wrench.error) * lever * overshoot;
  const givesAtNm = yieldNm(bench, joint, bolt);
  const pull = {
    ...{ joint, bolt, wrench: state.wrench, setting: state.setting, angleDeg: state.angleDeg },
    ...{ grip: state.grip, overshoot, jerked, past: past === true },
  };
  const end = (change: Partial<BoltState>, code: TorqueSaidCode): TorqueStep => ({
    ...done(becomes(change), code),
    pull: { ...pull, code },
  });
  if (givenNm > givesAtNm)
    return end({ torqueNm: givesAtNm, gaveWay: true, clicked: false }, 'turns-on-without-click');
  if (was.torqueNm >= givenNm * 0.995) return end({ clicked: true }, 'clicks-at-once');
  const code = past === true ? 'click-pulled-past' : jerked ? 'click-with-a-jerk' : 'click';
  return end({ torqueNm: givenNm, clicked: true }, code);
}

function yieldNm({ joints, stretched }: Bench, joint: number, bolt: number): number {
  const [given, weak] = [joints[joint - 1], stretched[joint - 1]];
  if (given === undefined || weak === null || weak === undefined || weak.bolt !== bolt)
    return Number.POSITIVE_INFINITY;
  return weak.share * given.wanted * NM_PER[given.unit];
}
