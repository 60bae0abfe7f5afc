import { USUAL_LOBE } from '../../views/figures/usual-lobe.ts';
import {
  CYCLE_DEG,
  displacementMm,
  FIRING_ORDERS,
  firingTdcDeg,
  fromMm,
  lobeEvent,
  type MotionLawName,
  motionLaw,
} from '../engine/index.ts';
import { type Call, numberOf, oneOf, TemplateProblem } from './template.ts';
import { type WorkedNumbers, writeLength } from './worked-kit.ts';

const LAWS: readonly MotionLawName[] = [
  'polynomial-3-4-5',
  'polynomial-4-5-6-7',
  'cycloidal',
  'simple-harmonic',
  'modified-sine',
  'modified-trapezoid',
];

function orderOf(call: Call): readonly number[] {
  return oneOf(call, 'cylinders', ['4', '6'], '4') === '6' ? FIRING_ORDERS[6] : FIRING_ORDERS[4];
}

/** Numbers worked out in the lessons on engines, cams and injection. */
export const ENGINE_WORKED: WorkedNumbers = {
  /** `{{camdeg crank=90}}`: degrees of the cam. */
  camdeg: (call) => `${numberOf(call, 'crank') / (CYCLE_DEG / 360)}°`,
  /** `{{order cylinders=6}}`: the firing order. */
  // Hyphens that do not break: a firing order is one word.
  order: (call) => orderOf(call).join('\u2011'),
  /** `{{between cylinders=4 from=1 to=3}}`: degrees of crank from one firing top dead centre to another. */
  between: (call) => {
    const order = orderOf(call);
    try {
      const [from, to] = [
        firingTdcDeg(order, numberOf(call, 'from')),
        firingTdcDeg(order, numberOf(call, 'to')),
      ];
      return `${(to - from + CYCLE_DEG) % CYCLE_DEG}°`;
    } catch (error) {
      if (error instanceof RangeError) throw new TemplateProblem(`holds {{between}}: ${error.message}`);
      throw error;
    }
  },
  /** `{{lobelift deg=-25}}`: lift of a usual lobe so many degrees of cam from its nose. */
  lobelift: (call) =>
    `${writeLength(fromMm(displacementMm(USUAL_LOBE, numberOf(call, 'deg')), 'in'), 'in')} in`,
  /** `{{lobewidth height=0.05}}`: degrees of crank for which a usual lobe stands higher than that, in inches. */
  lobewidth: (call) => {
    const event = lobeEvent(USUAL_LOBE, numberOf(call, 'height') * 25.4);
    if (event === null) throw new TemplateProblem('holds {{lobewidth}} higher than the lobe');
    return `${Math.round(event.widthDeg)}°`;
  },
  /** `{{steepest law=cycloidal}}`: greatest velocity of a motion law, in lifts a rise. */
  steepest: (call) => {
    const { velocity } = motionLaw(oneOf(call, 'law', LAWS));
    const shares = Array.from({ length: 1001 }, (_, index) => velocity(index / 1000));
    return Math.max(...shares).toFixed(2);
  },
  /** `{{volume diameter=10 stroke=3}}`: what a round plunger moves, in cubic millimetres. */
  volume: (call) =>
    `${((Math.PI / 4) * numberOf(call, 'diameter') ** 2 * numberOf(call, 'stroke')).toFixed(0)} mm³`,
};
