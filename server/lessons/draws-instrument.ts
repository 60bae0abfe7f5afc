import { DIALS, type Dial, fromMm, graduationsPerTurn, readDial, toMm } from '../engine/index.ts';
import { asked, type Drawn, type Draws, INCH, METRIC } from './draw-kit.ts';
import { SET_UP_DRAWS } from './draws-set-up.ts';
import { writeLength } from './worked-kit.ts';

const FINE_INCH = DIALS['inch-0.0005-0.5'];
const FINE_METRIC = DIALS['metric-0.001-1'];
/** Gauges whose faces are told apart only by their print. */
const PLATES: readonly Dial[] = [INCH, FINE_INCH, METRIC, FINE_METRIC];

/** Numbers drawn for the lessons on the indicator and its set-up. */
export const INSTRUMENT_DRAWS: Draws = {
  ...SET_UP_DRAWS,
  /** A gauge out of the drawer: how much is one turn? */
  'one-turn': (draw) => oneTurn(PLATES[draw.whole(0, PLATES.length - 1)] ?? INCH),
  /** The bezel is turned to zero, then the plunger moves: the pointer has only the movement to show. */
  'bezel-then-move': (draw) => {
    const before = draw.whole(15, 85);
    const move = draw.whole(12, 45) * INCH.graduation;
    const at = (travel: number) =>
      readDial({ ...INCH, plungerAtZero: 0.2, counterAtZero: 2 }, travel).pointer;
    const pointer = at(move);
    return asked(
      { graduation: String(INCH.graduation), before: String(before), move: writeLength(move, 'in') },
      {
        value: pointer,
        unit: '',
        within: 0.5,
        slips: [
          {
            value: at(move + before * INCH.graduation),
            why: `It looks as if you counted on from ${before}. The bezel has brought zero there, so the counting begins at zero.`,
          },
          {
            value: graduationsPerTurn(INCH) - pointer,
            why: 'It looks as if the pointer went the other way. A plunger that goes in turns it clockwise, with the numbers.',
          },
        ],
        sum: `${writeLength(move, 'in')} in ÷ ${INCH.graduation} in = ${pointer} graduations from zero.`,
      },
    );
  },
  /** One place of the pointer on two faces. */
  'same-pointer': (draw) => {
    const pointer = draw.whole(11, 47) * 2;
    const on = (dial: Dial) => pointer * dial.graduation;
    return asked(
      { pointer: String(pointer), coarse: String(INCH.graduation), fine: String(FINE_INCH.graduation) },
      {
        value: on(FINE_INCH),
        unit: 'in',
        within: FINE_INCH.graduation / 2,
        slips: [
          {
            value: on(INCH),
            why: `That is what the ${INCH.graduation} in gauge reads. On the finer one each graduation is half of that.`,
          },
          {
            value: 2 * on(INCH),
            why: 'It looks as if the finer graduation was taken as twice the other. It is half of it.',
          },
          {
            value: on(FINE_INCH) / 10,
            why: 'It looks as if the decimal point stands one place too far to the left.',
          },
        ],
        sum: `${pointer} × ${FINE_INCH.graduation} in = ${writeLength(on(FINE_INCH), 'in', 4)} in.`,
      },
    );
  },
};

function oneTurn(dial: Dial): Drawn {
  const { unit, graduation, rangePerTurn } = dial;
  const count = graduationsPerTurn(dial);
  const other = unit === 'in' ? toMm(rangePerTurn, 'in') : fromMm(rangePerTurn, 'in');
  return asked(
    { count: String(count), graduation: String(graduation), unit },
    {
      value: rangePerTurn,
      unit,
      within: graduation / 2,
      slips: [
        {
          value: dial.travel,
          why: 'That is the whole travel, as such gauges usually have it. One turn is only a part of it.',
        },
        {
          value: rangePerTurn / 10,
          why: 'It looks as if only ten graduations were counted. The numbers round the face stand ten graduations apart.',
        },
        {
          value: rangePerTurn * 10,
          why: 'It looks as if the decimal point stands one place too far to the right.',
        },
        { value: Number(other.toFixed(4)), why: 'It looks as if inches and millimetres were mixed up.' },
        // Ten turns are the whole travel of some gauges: one slip is told for it, the likelier.
      ].filter(({ value }, index, all) => all.findIndex((one) => one.value === value) === index),
      sum: `${count} graduations × ${graduation} ${unit} = ${Number(rangePerTurn.toFixed(4))} ${unit} in a turn.`,
    },
  );
}
