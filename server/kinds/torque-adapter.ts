import { z } from 'zod';
import type {
  BriefOf,
  GripPlace,
  TorqueAdapterAction,
  TorqueVerdict,
  ViewOf,
  WrittenJoint,
} from '../engine/index.ts';
import {
  boxWords,
  GAUGED_VERDICT_WORDS,
  TORQUE_CAUTIONS,
  torquePerceptionWords,
  torqueUnitWords,
} from '../web/words/index.ts';
import { FOLLOW_UPS, judgedBoxes } from './shared.ts';
import type { Boxes, Control, ControlSet, Desk, SheetPart } from './types.ts';

type Brief = BriefOf<'torque-adapter'>;
type View = ViewOf<'torque-adapter'>;
type Act = TorqueAdapterAction;

const VERDICTS: readonly TorqueVerdict[] = ['inside', 'below', 'above', 'turns-on'];
const UNITS = ['lbf-ft', 'lbf-in', 'N-m'] as const;
const GRIPS: Readonly<Record<GripPlace, string>> = {
  mark: 'Hand at the mark',
  choked: 'Hand nearer the head',
  end: 'Hand at the very end',
};

const joint = z.int().min(1).max(20);
const bolt = z.int().min(1).max(40);
const onBolt = <T extends string>(type: T) => z.strictObject({ type: z.literal(type), joint, bolt });

const action = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('read-register') }),
  z.strictObject({ type: z.literal('take-wrench'), wrench: z.int().min(1).max(9) }),
  z.strictObject({ type: z.literal('set-adapter'), angleDeg: z.number().min(-360).max(360) }),
  z.strictObject({ type: z.literal('set-wrench'), setting: z.number().min(0).max(10_000) }),
  z.strictObject({ type: z.literal('test-wrench') }),
  z.strictObject({ type: z.literal('grip'), place: z.enum(['mark', 'choked', 'end']) }),
  onBolt('run-down'),
  onBolt('clean'),
  z.strictObject({
    type: z.literal('pull'),
    joint,
    bolt,
    speed: z.number().min(0).max(1),
    past: z.boolean().exactOptional(),
  }),
  onBolt('loosen'),
  onBolt('mark'),
  z.strictObject({ type: z.literal('back-off') }),
  z.strictObject({
    type: z.literal('note'),
    item: z.int().min(0).max(99),
    box: z.string().min(1).max(40),
  }),
]);

export const torqueAdapter: Desk<'torque-adapter'> = {
  title: 'Torque with an adapter',
  action,
  plate: ({ name }) => name,
  dial: () => null,
  specification: ({ joints }) =>
    joints.map(
      ({ name, wanted, unit, angleDeg, order }) =>
        `${name}: ${wanted} ${torqueUnitWords(unit)}, adapter at ${angleDeg}°, order ${order.join('-')}.`,
    ),
  facts: ({ scale, gripLength, adapterLength, overallLength, lengthUnit }) => [
    {
      term: 'Scale of the wrench',
      text: `${scale.least} to ${scale.most} ${torqueUnitWords(scale.unit)}, by ${scale.step}`,
    },
    { term: 'Square to the mark on the grip', text: `${gripLength} ${lengthUnit}` },
    { term: 'Square to fastener', text: `${adapterLength} ${lengthUnit}` },
    { term: 'Whole length of the wrench', text: `${overallLength} ${lengthUnit}` },
  ],
  orderOfWork: ({ tester }) => [
    'Read the register: take a wrench whose check is in date.',
    ...(tester ? ['Set it and pull it on the tester: it must click within 4 % of its setting.'] : []),
    'Put the adapter on at the angle the joint needs.',
    'Work out the setting: T × L ÷ (L + E × cos angle), in the unit of the scale. L is to the hand, E the adapter.',
    'Run every bolt down by hand; clean threads that run stiffly.',
    'Tighten in the order given: half first, then the full torque. Pull smoothly to the click and stop.',
    'One that turns on without a click has stretched: stop, write it down.',
    'Mark each bolt when it is done. Back the wrench off for storage.',
  ],
  caution: TORQUE_CAUTIONS['makers-manual-first'],
  begin: () => 'Two wrenches lie in their boxes beside the register.',
  controls,
  form,
  partAt: () => null,
  sheet: (brief, boxes) => ({ joints: brief.joints.map((_, index) => jointIn(index + 1, boxes)) }),
  said: torquePerceptionWords,
  did,
  itemName: ({ joints }, item) => joints[item - 1]?.name ?? `Joint ${item}`,
};

function controls(brief: Brief, view: View): ControlSet<Act>[] {
  const { scale, joints, wrenches, tester } = brief;
  const wrench: Control<Act>[] = [
    { control: 'do', id: 'read-register', label: 'Read the register', action: { type: 'read-register' } },
    ...Array.from(
      { length: wrenches },
      (_, index): Control<Act> => ({
        control: 'do',
        id: `take-wrench-${index + 1}`,
        label: `Take wrench ${index + 1}`,
        action: { type: 'take-wrench', wrench: index + 1 },
        pressed: view.wrench === index + 1,
      }),
    ),
    {
      control: 'amount',
      id: 'set-wrench',
      label: 'Setting of the wrench',
      unit: torqueUnitWords(scale.unit),
      button: 'Set the wrench',
      value: scale.least,
      least: scale.least,
      most: scale.most,
      step: scale.step,
      action: { type: 'set-wrench', setting: scale.least },
      field: 'setting',
    },
    {
      control: 'amount',
      id: 'set-adapter',
      label: 'Angle of the adapter to the handle',
      unit: '°',
      button: 'Put the adapter on',
      value: 0,
      least: -180,
      most: 180,
      step: 1,
      action: { type: 'set-adapter', angleDeg: 0 },
      field: 'angleDeg',
    },
    ...(tester
      ? [
          {
            control: 'do',
            id: 'test-wrench',
            label: 'Pull it on the tester',
            action: { type: 'test-wrench' },
          } as const,
        ]
      : []),
    ...(Object.keys(GRIPS) as GripPlace[]).map(
      (place): Control<Act> => ({
        control: 'do',
        id: `grip-${place}`,
        label: GRIPS[place],
        action: { type: 'grip', place },
        pressed: view.grip === place,
      }),
    ),
    { control: 'do', id: 'back-off', label: 'Back the scale off', action: { type: 'back-off' } },
  ];
  return [
    { legend: 'Wrench', controls: wrench },
    ...joints.map(({ name, order }, index) => ({
      legend: name,
      controls: boltControls(index + 1, order),
    })),
  ];
}

/** One list of the bolts, by their numbers, and what may be done to the one chosen. */
function boltControls(joint: number, order: readonly number[]): Control<Act>[] {
  const bolts = sorted(order);
  const button = (label: string, make: (bolt: number) => Act) => ({ label, actions: bolts.map(make) });
  const pull = (speed: number, past?: true) => (bolt: number) =>
    ({ type: 'pull', joint, bolt, speed, ...(past ? { past } : {}) }) as const;
  const simply = (type: 'run-down' | 'clean' | 'mark' | 'loosen') => (bolt: number) =>
    ({ type, joint, bolt }) as const;
  return [
    {
      control: 'pick',
      id: `bolt-${joint}`,
      label: 'Bolt',
      things: bolts.map((bolt) => `Bolt ${bolt}`),
      buttons: [
        button('Run it down by hand', simply('run-down')),
        button('Clean its threads', simply('clean')),
        button('Pull smoothly to the click', pull(0.3)),
        button('Pull with a jerk', pull(0.9)),
        button('Pull on past the click', pull(0.3, true)),
        button('Mark it', simply('mark')),
        button('Loosen it', simply('loosen')),
      ],
    },
  ];
}

const sorted = (order: readonly number[]) => [...order].sort((one, other) => one - other);

function form({ joints, scale }: Brief): SheetPart<Act>[] {
  return joints.map(({ name, order }, index) => {
    const item = index + 1;
    const note = (box: string): Act => ({ type: 'note', item, box });
    return {
      id: `joint-${item}`,
      title: name,
      short: name,
      sets: [
        {
          legend: null,
          boxes: [
            {
              box: 'number',
              name: `${item}.setting`,
              label: 'Wrench set to, for the full torque',
              least: 0,
              most: 10 * scale.most,
              whole: false,
              sentence: 'Write the setting as a number, for example 18.5.',
              note: note('setting'),
            },
            {
              box: 'choice',
              name: `${item}.unit`,
              label: 'Unit of the setting',
              options: UNITS.map((value) => ({ value, text: torqueUnitWords(value) })),
            },
            {
              box: 'list',
              name: `${item}.order`,
              label: 'Order tightened in',
              hint: `Numbers of the bolts, for example ${sorted(order).join(' ')}.`,
              most: order.length,
              sentence: `Write the numbers of the bolts in order, 1 to ${order.length}, with spaces between.`,
              note: note('order'),
            },
            ...judgedBoxes<Act, TorqueVerdict>(
              { verdict: `${item}.verdict`, next: `${item}.next` },
              VERDICTS,
              (value) =>
                value === 'inside'
                  ? 'every bolt has its torque'
                  : value === 'turns-on'
                    ? 'a bolt turned on without its torque'
                    : `${GAUGED_VERDICT_WORDS[value]} the torque wanted`,
            ),
          ],
        },
      ],
    };
  });
}

function jointIn(joint: number, boxes: Boxes): WrittenJoint {
  return {
    joint,
    setting: boxes.number(`${joint}.setting`),
    unit: boxes.choice(`${joint}.unit`, UNITS),
    order: boxes.list(`${joint}.order`),
    verdict: boxes.choice(`${joint}.verdict`, VERDICTS),
    next: boxes.choice(`${joint}.next`, FOLLOW_UPS),
  };
}

function did(action: Act, { joints, scale }: Brief): string {
  const at = (one: { joint: number; bolt: number }) =>
    `bolt ${one.bolt}, ${joints[one.joint - 1]?.name ?? `joint ${one.joint}`}`;
  switch (action.type) {
    case 'read-register':
      return 'Read the register.';
    case 'take-wrench':
      return `Took wrench ${action.wrench}.`;
    case 'set-adapter':
      return `Put the adapter on at ${action.angleDeg}°.`;
    case 'set-wrench':
      return `Set the wrench to ${action.setting} ${torqueUnitWords(scale.unit)}.`;
    case 'test-wrench':
      return 'Pulled the wrench on the tester.';
    case 'grip':
      return `${GRIPS[action.place]}.`;
    case 'run-down':
      return `Ran down by hand: ${at(action)}.`;
    case 'clean':
      return `Cleaned the threads: ${at(action)}.`;
    case 'pull':
      return `Pulled${action.past ? ' on past the click' : action.speed > 0.5 ? ' with a jerk' : ''}: ${at(action)}.`;
    case 'loosen':
      return `Loosened: ${at(action)}.`;
    case 'mark':
      return `Marked: ${at(action)}.`;
    case 'back-off':
      return 'Backed the scale off.';
    case 'note':
      return `Wrote ${boxWords(action.box)}, ${joints[action.item - 1]?.name ?? ''}.`;
  }
}
