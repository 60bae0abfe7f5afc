import {
  type ActionOf,
  act,
  type BenchOf,
  brief,
  convertTorque,
  type DefinitionOf,
  type GripPlace,
  generateBench,
  type SheetOf,
  startBench,
  type TorqueSaid,
  torqueSetting,
  type WrittenJoint,
} from '../../server/engine/index.ts';

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

/** A whole tightening job as an observer left it. */
export interface TorqueAttempt {
  readonly bench: BenchOf<'torque-adapter'>;
  readonly actions: readonly ActionOf<'torque-adapter'>[];
  readonly sheet: SheetOf<'torque-adapter'>;
}

/** Works by the brief and by what is perceived alone; careful but for the habits. */
export function observeTorque(
  definition: DefinitionOf<'torque-adapter'>,
  seed: string | number,
  habits: TorqueHabits = {},
): TorqueAttempt {
  const bench = generateBench(definition, seed);
  const plate = brief(bench);
  const { scale } = plate;
  const skips = (step: NonNullable<TorqueHabits['leavesOut']>[number]) => habits.leavesOut?.includes(step);
  const actions: ActionOf<'torque-adapter'>[] = [];
  let state = startBench(bench);
  const does = (action: ActionOf<'torque-adapter'>): readonly TorqueSaid[] => {
    const done = act(bench, state, action);
    state = done.state;
    actions.push(action);
    return done.seen.said;
  };
  const heard = (said: readonly TorqueSaid[], code: string) => said.some((one) => one.code === code);
  const onScale = (torque: number) => Number((Math.round(torque / scale.step) * scale.step).toFixed(3));
  const rights = plate.joints.map(({ wanted, unit, angleDeg }) =>
    onScale(
      torqueSetting(convertTorque(wanted, unit, scale.unit), plate.gripLength, plate.adapterLength, angleDeg),
    ),
  );
  const settings = rights.map((right, index) => onScale(habits.sets?.(right, index + 1) ?? right));

  takeWrench();
  if (habits.grip !== undefined) does({ type: 'grip', place: habits.grip });
  const joints = plate.joints.map((_, index) => tighten(index));
  if (!skips('back-off')) does({ type: 'back-off' });
  return { bench, actions, sheet: { joints } };

  function takeWrench() {
    const register = skips('register') ? [] : does({ type: 'read-register' });
    const overdue = register.flatMap((one) =>
      one.code === 'wrench-overdue' && one.wrench !== undefined ? [one.wrench] : [],
    );
    const take = habits.takes ?? (overdue.includes(1) ? 2 : 1);
    does({ type: 'take-wrench', wrench: take });
    if (skips('test') || !plate.tester) return;
    const tried = Math.max(...rights);
    const isOff = () => {
      does({ type: 'set-wrench', setting: tried });
      const read = does({ type: 'test-wrench' }).flatMap((one) =>
        one.code !== 'cannot' && one.torque !== undefined ? [one.torque] : [],
      )[0];
      return Math.abs((read ?? 0) / tried - 1) > 0.04;
    };
    if (!isOff() || habits.takes !== undefined) return;
    does({ type: 'take-wrench', wrench: 3 - take });
    isOff();
  }

  function tighten(index: number): WrittenJoint {
    const joint = index + 1;
    const { angleDeg, order: given } = plate.joints[index] ?? { angleDeg: 0, order: [] };
    const setting = settings[index] ?? 0;
    const order = skips('order') ? [...given].reverse() : given;
    does({ type: 'set-adapter', angleDeg: angleDeg + (habits.offAngleDeg ?? 0) });
    for (const bolt of skips('run-down') ? [] : order)
      if (heard(does({ type: 'run-down', joint, bolt }), 'runs-stiffly'))
        does({ type: 'clean', joint, bolt });
    let turnsOn = false;
    for (const share of skips('half') ? [1] : [0.5, 1]) {
      does({ type: 'set-wrench', setting: share === 1 ? setting : onScale(share * setting) });
      for (const bolt of order) {
        if (turnsOn) break;
        const pull = {
          type: 'pull',
          joint,
          bolt,
          speed: habits.speed ?? 0.3,
          past: habits.past === true,
        } as const;
        turnsOn = heard(does(pull), 'turns-on-without-click');
        if (habits.twice && !turnsOn) does(pull);
        if (share === 1 && !turnsOn && !skips('mark')) does({ type: 'mark', joint, bolt });
      }
    }
    const verdict = turnsOn ? 'turns-on' : 'inside';
    const next = turnsOn ? 'replace' : 'return-to-service';
    return { joint, setting, unit: scale.unit, order, verdict, next };
  }
}
