import { z } from 'zod';
import {
  type CamLiftAction,
  type CamLiftBrief,
  type CamLiftView,
  DIALS,
  type DialName,
} from '../engine/index.ts';
import { dialWords } from '../web/words/index.ts';
import { clampControl, preloadControl } from './shared.ts';
import type { Control, ControlSet } from './types.ts';

/** What is done at an engine with a unit pump taken out: cam lift, and the search for a fault in its set-up. */

const position = z.int().min(1).max(12);

/** An action at the engine as it may come in from a page. */
export const ENGINE_ACTION = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('choose-gauge'), gauge: z.enum(Object.keys(DIALS) as DialName[]) }),
  z.strictObject({ type: z.literal('choose-rod'), rod: z.int().min(1).max(12) }),
  z.strictObject({ type: z.literal('look-up'), letter: z.string().max(8).exactOptional() }),
  z.strictObject({ type: z.literal('tally') }),
  z.strictObject({ type: z.literal('move'), position }),
  z.strictObject({ type: z.literal('inspect') }),
  z.strictObject({ type: z.literal('seat') }),
  z.strictObject({ type: z.literal('turn-tappet') }),
  z.strictObject({ type: z.literal('press') }),
  z.strictObject({ type: z.literal('preload'), turns: z.number().min(0).max(100) }),
  z.strictObject({ type: z.literal('align'), square: z.literal(true).exactOptional() }),
  z.strictObject({ type: z.literal('tighten'), part: z.enum(['arm', 'base', 'rod']) }),
  z.strictObject({ type: z.literal('lift-tip') }),
  z.strictObject({ type: z.literal('zero') }),
  z.strictObject({ type: z.literal('clamp') }),
  z.strictObject({ type: z.literal('unclamp') }),
  z.strictObject({
    type: z.literal('bar'),
    degrees: z.number().min(-360).max(360),
    speed: z.number().min(1).max(120).exactOptional(),
    hold: z.number().min(0).max(60).exactOptional(),
  }),
  z.strictObject({
    type: z.literal('note'),
    position,
    reading: z.union([z.literal(1), z.literal(2)]),
    box: z.enum(['counterBefore', 'counterHigh', 'turns', 'pointer', 'lift', 'returned']),
  }),
]);

type Plate = Pick<CamLiftBrief, 'positions' | 'tray' | 'rods' | 'page' | 'rollerVerdict'>;
type Stand = Pick<CamLiftView, 'gauge' | 'rod' | 'tally' | 'position' | 'clamped'>;

/** The controls at the engine; those for choices stand there only where something is to be chosen. */
export function engineControls(plate: Plate, view: Stand): ControlSet<CamLiftAction>[] {
  const chosen = choices(plate, view);
  return [
    ...(chosen.length > 0 ? [{ legend: 'Take from the bench', controls: chosen }] : []),
    {
      legend: 'Pump position',
      controls: plate.positions.map((one) => ({
        control: 'do',
        id: `move-${one}`,
        label: `Position ${one}`,
        action: { type: 'move', position: one },
        pressed: view.position === one,
      })),
    },
    { legend: 'Tappet and rod', controls: tappetControls(plate) },
    { legend: 'Indicator', controls: indicatorControls(view) },
    { legend: 'Bar the engine', controls: barControls(view) },
  ];
}

function choices({ tray, rods, page }: Plate, { gauge, rod }: Stand): Control<CamLiftAction>[] {
  const controls: Control<CamLiftAction>[] = [];
  if (tray !== undefined)
    controls.push({
      control: 'choose',
      id: 'choose-gauge',
      label: gauge === null ? 'Gauge' : `Gauge; in hand: ${dialWords(gauge)}`,
      button: 'Take this gauge',
      options: tray.map(({ dialName }) => ({
        text: dialWords(dialName),
        action: { type: 'choose-gauge', gauge: dialName },
      })),
    });
  if (rods !== undefined)
    controls.push({
      control: 'choose',
      id: 'choose-rod',
      label: rod === null ? 'Rod' : `Rod; in hand: rod ${rod}`,
      button: 'Take this rod',
      options: Array.from({ length: rods }, (_, index) => ({
        text: `Rod ${index + 1}`,
        action: { type: 'choose-rod', rod: index + 1 },
      })),
    });
  if (page !== undefined)
    controls.push({
      control: 'choose',
      id: 'look-up',
      label: 'Specification page, by the letter on the camshaft',
      button: 'Look it up',
      options: page.rows.map((letter) => ({
        text: `Camshaft ${letter}`,
        action: { type: 'look-up', letter },
      })),
    });
  return controls;
}

function tappetControls({ rollerVerdict }: Plate): Control<CamLiftAction>[] {
  return [
    ...(rollerVerdict
      ? ([
          { control: 'do', id: 'inspect', label: 'Look at the roller', action: { type: 'inspect' } },
        ] as const)
      : []),
    { control: 'do', id: 'seat', label: 'Seat the tappet', action: { type: 'seat' } },
    {
      control: 'do',
      id: 'turn-tappet',
      label: 'Turn tappet, slot to pin',
      action: { type: 'turn-tappet' },
    },
    { control: 'do', id: 'press', label: 'Press on the rod', action: { type: 'press' } },
  ];
}

function indicatorControls({ clamped }: Stand): Control<CamLiftAction>[] {
  const tighten = (part: 'arm' | 'base' | 'rod', label: string): Control<CamLiftAction> => ({
    control: 'do',
    id: `tighten-${part}`,
    label,
    action: { type: 'tighten', part },
  });
  return [
    preloadControl<CamLiftAction>((turns) => ({ type: 'preload', turns })),
    { control: 'do', id: 'align', label: 'Look along the bore', action: { type: 'align' } },
    { control: 'do', id: 'square', label: 'Set it square', action: { type: 'align', square: true } },
    tighten('arm', 'Tighten the arm'),
    tighten('base', 'Tighten the base'),
    tighten('rod', 'Seat the rod firmly'),
    { control: 'do', id: 'lift-tip', label: 'Lift the tip and let go', action: { type: 'lift-tip' } },
    { control: 'do', id: 'zero', label: 'Turn bezel to zero', action: { type: 'zero' } },
    clampControl<CamLiftAction>(clamped, { type: 'clamp' }, { type: 'unclamp' }),
  ];
}

/** Speeds of barring in degrees of crank a second, and the steps at the buttons. */
export const BARRING = {
  steps: [1, 10, 30],
  speeds: [
    { perSecond: 6, label: 'slow, 6°/s' },
    { perSecond: 20, label: 'steady, 20°/s' },
    { perSecond: 60, label: 'fast, 60°/s' },
  ],
} as const;

function barControls({ tally }: Stand): Control<CamLiftAction>[] {
  return [
    {
      control: 'turn',
      id: 'bar',
      back: 'Bar back',
      forward: 'Bar clockwise',
      ...BARRING,
      action: { type: 'bar', degrees: 0 },
      barred: true,
    },
    {
      control: 'do',
      id: 'tally',
      label: tally === 0 ? 'Tally: pointer passes zero' : `Tally: pointer passes zero (${tally})`,
      action: { type: 'tally' },
    },
  ];
}
