import {
  type ActionOf,
  convertTorque,
  type GripPlace,
  type TorqueAdapterBrief,
  type TorqueSaid,
  torqueSetting,
  type WrittenJoint,
} from '../engine/index.ts';
import type { Finished, Work } from './work.ts';

/** Steps left out or done badly. */
export interface TorqueHabits {
  readonly leavesOut?: readonly ('register' | 'test' | 'run-down' | 'half' | 'mark' | 'back-off' | 'order')[];
  readonly takes?: number;
  readonly speed?: number;
  readonly past?: boolean;
  readonly twice?: boolean;
  readonly grip?: GripPlace;
  readonly offAngleDeg?: number;
  /** What is set and written for the right setting. */
  readonly sets?: (right: number, joint: number) => number;
}

type TorqueWork<Result = void> = Work<'torque-adapter', Result>;
type Step = NonNullable<TorqueHabits['leavesOut']>[number];

/** Takes a wrench that is right, then joint by joint: runs the bolts down, half way, all the way, and paints each that clicked. */
export function* tightenJoints(
  plate: TorqueAdapterBrief,
  habits: TorqueHabits = {},
): TorqueWork<Finished<'torque-adapter'>> {
  const mechanic = new WithTheWrench(plate, habits);
  yield* mechanic.takeWrench();
  const joints: WrittenJoint[] = [];
  for (const index of plate.joints.keys()) joints.push(yield* mechanic.tighten(index));
  yield* mechanic.putAway();
  return { sheet: { joints } };
}

class WithTheWrench {
  readonly #plate: TorqueAdapterBrief;
  readonly #habits: TorqueHabits;
  /** What the scale must say for each joint, in the scale's unit. */
  readonly #rights: readonly number[];

  constructor(plate: TorqueAdapterBrief, habits: TorqueHabits) {
    const { joints, scale, gripLength, adapterLength } = plate;
    this.#plate = plate;
    this.#habits = habits;
    this.#rights = joints.map(({ wanted, unit, angleDeg }) => {
      const torque = convertTorque(wanted, unit, scale.unit);
      return this.#onScale(torqueSetting(torque, gripLength, adapterLength, angleDeg));
    });
  }

  /** One that is not overdue and, where there is a tester, clicks within 4 % of what it is set to. */
  *takeWrench(): TorqueWork {
    const { takes, grip } = this.#habits;
    const overdue = this.#skips('register') ? [] : yield* this.#overdue();
    const wrench = takes ?? (overdue.includes(1) ? 2 : 1);
    yield* this.#does({ type: 'take-wrench', wrench });
    if (!this.#skips('test') && this.#plate.tester) {
      const isOff = yield* this.#testedOff();
      if (isOff && takes === undefined) {
        yield* this.#does({ type: 'take-wrench', wrench: 3 - wrench });
        yield* this.#testedOff();
      }
    }
    if (grip !== undefined) yield* this.#does({ type: 'grip', place: grip });
  }

  *tighten(index: number): TorqueWork<WrittenJoint> {
    const joint = index + 1;
    const { angleDeg, order: given } = this.#plate.joints[index] ?? { angleDeg: 0, order: [] };
    const order = this.#skips('order') ? [...given].reverse() : given;
    const right = this.#rights[index] ?? 0;
    const setting = this.#onScale(this.#habits.sets?.(right, joint) ?? right);
    yield* this.#does({ type: 'set-adapter', angleDeg: angleDeg + (this.#habits.offAngleDeg ?? 0) });
    if (!this.#skips('run-down')) yield* this.#runDown(joint, order);
    const turnsOn = yield* this.#pullAll(joint, order, setting);
    const verdict = turnsOn ? 'turns-on' : 'inside';
    const next = turnsOn ? 'replace' : 'return-to-service';
    return { joint, setting, unit: this.#plate.scale.unit, order, verdict, next };
  }

  /** The spring is let off before the wrench goes back. */
  *putAway(): TorqueWork {
    if (!this.#skips('back-off')) yield* this.#does({ type: 'back-off' });
  }

  *#overdue(): TorqueWork<readonly number[]> {
    const said = yield* this.#does({ type: 'read-register' });
    return said.flatMap((one) =>
      one.code === 'wrench-overdue' && one.wrench !== undefined ? [one.wrench] : [],
    );
  }

  *#testedOff(): TorqueWork<boolean> {
    const tried = Math.max(...this.#rights);
    yield* this.#does({ type: 'set-wrench', setting: tried });
    const said = yield* this.#does({ type: 'test-wrench' });
    const [read] = said.flatMap((one) =>
      one.code !== 'cannot' && one.torque !== undefined ? [one.torque] : [],
    );
    return Math.abs((read ?? 0) / tried - 1) > 0.04;
  }

  *#runDown(joint: number, order: readonly number[]): TorqueWork {
    for (const bolt of order) {
      const said = yield* this.#does({ type: 'run-down', joint, bolt });
      if (heard(said, 'runs-stiffly')) yield* this.#does({ type: 'clean', joint, bolt });
    }
  }

  /** In order, to half and then to all of it. A bolt that turns on without a click ends it. */
  *#pullAll(joint: number, order: readonly number[], setting: number): TorqueWork<boolean> {
    for (const share of this.#skips('half') ? [1] : [0.5, 1]) {
      yield* this.#does({
        type: 'set-wrench',
        setting: share === 1 ? setting : this.#onScale(share * setting),
      });
      for (const bolt of order) {
        const turnsOn = yield* this.#pull(joint, bolt);
        if (turnsOn) return yield* this.#giveUp(share, setting);
        if (share === 1 && !this.#skips('mark')) yield* this.#does({ type: 'mark', joint, bolt });
      }
    }
    return false;
  }

  *#pull(joint: number, bolt: number): TorqueWork<boolean> {
    const { speed = 0.3, past = false, twice } = this.#habits;
    const pull = { type: 'pull', joint, bolt, speed, ...(past ? { past } : {}) } as const;
    if (heard(yield* this.#does(pull), 'turns-on-without-click')) return true;
    if (twice) yield* this.#does(pull);
    return false;
  }

  /** The wrench is set as the sheet says all the same, so that it says what was set. */
  *#giveUp(share: number, setting: number): TorqueWork<true> {
    if (share !== 1) yield* this.#does({ type: 'set-wrench', setting });
    return true;
  }

  *#does(action: ActionOf<'torque-adapter'>): TorqueWork<readonly TorqueSaid[]> {
    return (yield action).said;
  }

  #onScale(torque: number): number {
    const { step } = this.#plate.scale;
    return Number((Math.round(torque / step) * step).toFixed(3));
  }

  #skips(step: Step): boolean {
    return this.#habits.leavesOut?.includes(step) ?? false;
  }
}

const heard = (said: readonly TorqueSaid[], code: string) => said.some((one) => one.code === code);
