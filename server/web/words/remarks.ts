import { DIALS, type DialName, type Remark } from '../../engine/index.ts';
import {
  FOLLOW_UP_WORDS,
  RIG_PART_WORDS,
  ROLLER_WORDS,
  VERDICT_WORDS,
  wordsFor,
  ZERO_PLACE_WORDS,
} from './codes.ts';
import { dialWords } from './dials.ts';
import { graduationsAndLength, graduationWords, lengthWords, limitWords } from './lengths.ts';
import { type About, listIn, numberIn, textIn, type Values, type Words } from './types.ts';

type Speak = (values: Values, about: About) => Words;

/** How near two readings must come to agree. Common practice, no source. */
const agreeWithin = ({ dial }: About) => (dial.unit === 'in' ? '0.001 in' : '0.025 mm');
/** How far below the others a lobe may be: 0.003 in, in the dial's unit. Common practice, no source. */
const belowOthers = ({ dial }: About) => (dial.unit === 'in' ? '0.003 in' : '0.076 mm');

const WHY_A_ZERO_ON_THE_BASE_CIRCLE =
  'The lift is highest minus lowest: a zero above the base circle takes that much off it. On the base circle the pointer stays at its lowest, within half a graduation over 60° of crank.';

const WHY_THIS_ZERO: Readonly<Record<string, string>> = {
  nose: 'From the nose the pointer can only run backwards. The base circle is where it stays at its lowest over 60° of crank; the nose is short and high.',
  'tappet-up':
    'A sticky tappet stays up when the lobe falls away, so a zero taken there is too high and the lift reads short. Press on the rod, watch the pointer drop, then set the zero.',
};

const SET_UP = {
  'no-set-up': () => ({
    seen: 'No indicator was set on this lobe.',
    why: 'Without a gauge on the rod nothing can be measured.',
  }),
  'tappet-hung': (values, { dial }) => ({
    seen: `It looks as if the tappet hung: it stood ${graduationsAndLength(numberIn(values, 'hungGraduations'), dial)} above the base circle.`,
    why: 'A tappet that hangs misses the first part of the rise, so the gauge shows too little lift. After a dull stop push again, until it is metal on metal.',
  }),
  'slot-off-pin': (values, { dial }) => ({
    seen: `The slot of the tappet was not on its guide pin. The tappet stood ${graduationsAndLength(numberIn(values, 'hungGraduations'), dial)} up.`,
    why: 'It cannot go home until it is turned, so the gauge shows only the top of the lobe. Turn it until the slot finds the pin; never knock it down.',
  }),
  'preload-too-little': (values) => ({
    seen: `The preload was ${numberIn(values, 'turns').toFixed(2)} of a turn. At least a quarter turn is asked for.`,
    why: 'With too little preload the tip may leave the rod at the lowest place, and the pointer stops before it gets there.',
  }),
  'tip-left-the-work': (values) => ({
    seen: `The tip left the rod. The preload was ${numberIn(values, 'turns').toFixed(2)} of a turn at zero.`,
    why: 'Off the rod the pointer stands still: the lowest place is not shown and the lift can read short.',
  }),
  'travel-ran-out': () => ({
    seen: 'The plunger came to the end of its travel.',
    why: 'There the pointer stops dead and the stand gives way. The high reading is short and the zero is lost.',
  }),
  'travel-too-little': (values) => ({
    seen: `Only ${numberIn(values, 'turns').toFixed(2)} of a turn of travel was left at the top.`,
    why: 'A quarter turn left at the top keeps the plunger clear of its stop.',
  }),
  'indicator-leans': (values, { dial }) => {
    const off = numberIn(values, 'offGraduations');
    const caught = values.tipInHole === true;
    return {
      seen: `The indicator leaned about ${numberIn(values, 'leanDeg')}° from the line of the bore${caught ? ', its tip in the centre hole of the rod' : ''}. On this lobe that makes ${graduationsAndLength(Math.abs(off), dial)} too ${off < 0 ? 'little' : 'much'}.`,
      why: caught
        ? 'A tip that is caught and cannot slide follows only a part of the travel, so the gauge shows too little.'
        : 'A plunger that leans on a square face travels further than the rod does, so the gauge shows too much. Look along the bore, not along the rod.',
    };
  },
  'stand-loose': (values) => ({
    seen: `${wordsFor(RIG_PART_WORDS, textIn(values, 'part')).replace(/^t/, 'T')} was loose while the lobe was measured.`,
    why: 'A loose stand gives way when the engine rocks at compression: pointer and small hand move together and the zero is lost. Tighten arm and base first.',
  }),
  'rod-loose': () => ({
    seen: 'The rod was not firm in its seat while the lobe was measured.',
    why: 'A rod that rocks stands otherwise each time: readings scatter and the zero does not come back.',
  }),
  'tip-not-lifted': (values) => ({
    seen: `The tip was lifted ${timesWords(numberIn(values, 'lifts'))} before the lobe came up. Three times are asked for.`,
    why: 'A tip that comes back to the same reading three times shows that rod, arm and base stand firm.',
  }),
  'not-zeroed': () => ({
    seen: 'The bezel was not set to zero on this lobe.',
    why: 'The lift is counted from a zero on the base circle. Without one there is nothing to count from.',
  }),
  'zero-off-base-circle': (values, { dial }) => {
    const where = textIn(values, 'where');
    return {
      seen: `It looks as if the zero was taken ${wordsFor(ZERO_PLACE_WORDS, where)}, ${graduationsAndLength(numberIn(values, 'aboveGraduations'), dial)} above the lowest place.`,
      why: WHY_THIS_ZERO[where] ?? WHY_A_ZERO_ON_THE_BASE_CIRCLE,
    };
  },
  'bezel-not-clamped': (values) => {
    const moved = numberIn(values, 'movedGraduations');
    return {
      seen: `The bezel was not clamped when the lobe came up.${moved > 0 ? ` The face moved ${graduationWords(moved)}.` : ''}`,
      why: 'A bezel that is not clamped turns when it is touched, and the zero is lost.',
    };
  },
} as const satisfies Record<string, Speak>;

const PROCEDURE = {
  'not-barred': () => ({
    seen: 'The engine was not barred with an indicator on this lobe.',
    why: 'The lift shows only while the lobe goes round under its tappet.',
  }),
  'lobe-never-came-up': (_values, { lobe }) =>
    lobe?.shown.some((shown) => shown !== null)
      ? {
          seen: 'The lobe came up under the gauge, but no reading of it was written.',
          why: 'What is not written cannot be checked, by you or by anybody else.',
        }
      : {
          seen: 'The lobe never came up after the zero.',
          why: 'A lobe comes round once in two turns of the crank. One turn may show no lift at all.',
        },
  'not-two-turns': (values) => ({
    seen: `${numberIn(values, 'barredDeg')}° of crank were barred after the zero. Two turns, 720°, are asked for.`,
    why: 'The cam turns once in two turns of the crank. Only a whole turn of the cam shows the highest and the lowest place.',
  }),
  'one-reading': (values, about) => ({
    seen: values.readings === 0 ? 'No reading was written.' : 'Only one reading was written.',
    why: `A second reading that agrees within ${agreeWithin(about)} shows that the first can be trusted.`,
  }),
  'one-pass-for-two-readings': () => ({
    seen: 'Two readings are written, but the lobe came up once.',
    why: 'A second reading means something only when the lobe has come round again.',
  }),
  'readings-disagree': (values, about) => ({
    seen: `The two readings are ${graduationsAndLength(numberIn(values, 'apartGraduations'), about.dial)} apart, and no third was taken.`,
    why: `Readings that do not agree within ${agreeWithin(about)} say that something moved or was misread. Find out why before you write the mean.`,
  }),
  'backed-up': (values) => ({
    seen: `The engine was barred back by ${numberIn(values, 'degrees')}°, less than the 30° that take up the play.`,
    why: 'The lift is not changed, but crank positions are off by the play in the gears, and a bolt one bars on may loosen. Go back at least 30° and come forward again.',
  }),
  'return-not-written': () => ({
    seen: 'What the pointer came back to was not written.',
    why: 'The return on the base circle shows whether the zero held while the lobe went by.',
  }),
  'return-not-seen': () => ({
    seen: 'The lobe was not followed back to its base circle, so there was no return to read.',
    why: 'The return shows whether the zero held while the lobe went by.',
  }),
  'return-misread': (values) => ({
    seen: `The return written is not what the gauge showed: it came back to ${signedGraduations(numberIn(values, 'shownGraduations'))}.`,
    why: 'The return tells a zero that held from one that was lost.',
  }),
  'zero-not-back': (values) => ({
    seen: `The pointer came back to ${signedGraduations(numberIn(values, 'shownGraduations'))}, and the reading was not taken again.`,
    why: 'Within half a graduation is fine; up to one, note it. Beyond, zero again and repeat: drift is never subtracted.',
  }),
} as const satisfies Record<string, Speak>;

const READING = {
  'lift-not-written': () => ({
    seen: 'No lift was written for this lobe.',
    why: 'Without a lift there is nothing to judge against the limits.',
  }),
  'nothing-measured': (values) => ({
    seen: `Nothing was measured on this lobe, yet a lift is written. ${values.barred === true ? 'The indicator was set, but the lobe never came up after a zero.' : 'No indicator was set on it.'}`,
    why: 'A lift that nobody measured can put a bad lobe back to work.',
  }),
  'reading-off': (values, { lobe, dial }) => {
    const off = numberIn(values, 'offGraduations');
    const way = off < 0 ? 'less' : 'more';
    const turns = Math.abs(numberIn(values, 'wholeTurns'));
    const compared =
      lobe === null
        ? ''
        : `The lift written is ${liftWords(lobe.writtenLift, dial)}; ${shownWords(lobe, dial)}. `;
    const turnWords =
      turns === 0 ? '' : `, ${turns === 1 ? 'one whole turn' : `${turns} whole turns`} of the pointer`;
    return {
      seen: `${compared}That is ${graduationWords(off)} ${way}${turnWords}.`,
      why: 'The verdict rests on this number. Within one graduation counts in full, within two by half.',
    };
  },
} as const satisfies Record<string, Speak>;

const VERDICT = {
  'bad-lobe-passed': (_values, { lobe }) => ({
    seen: lobe?.shown.some((shown) => shown !== null)
      ? 'This lobe is outside its limits, the gauge showed it, and it was written down as inside.'
      : 'This lobe is outside its limits, and it was written down as inside without being measured.',
    why: 'Finding such a lobe is what the measurement is for. Missing one loses all the points of this criterion.',
  }),
  'lost-with-bad-lobe': () => ({
    seen: 'These points are lost with another lobe: one outside its limits was written down as inside.',
    why: 'An engine is only as good as its worst lobe.',
  }),
  'verdict-not-written': () => ({
    seen: 'No verdict was written.',
    why: 'A lift alone does not say whether the lobe may go on working.',
  }),
  'verdict-without-lift': () => ({
    seen: 'A verdict is written, but no lift it could follow from.',
    why: 'A verdict is the lift against the limits.',
  }),
  'verdict-wrong': (values, { lobe, specification, dial }) => ({
    seen: `The lift written${lobe === null ? '' : `, ${liftWords(lobe.writtenLift, dial)},`} is ${wordsFor(VERDICT_WORDS, textIn(values, 'right'))}; “${wordsFor(VERDICT_WORDS, textIn(values, 'written'))}” was chosen.`,
    why: `The limits are ${limitWords(specification)}. A lift on a limit is inside; a side without a limit is never passed.`,
  }),
  'limit-side-swapped': (values, { specification }) => ({
    seen: `The lift written is ${wordsFor(VERDICT_WORDS, textIn(values, 'right'))} its limit; “${wordsFor(VERDICT_WORDS, textIn(values, 'written'))}” was chosen. It looks as if the two sides were taken for each other.`,
    why: `The limits are ${limitWords(specification)}. A worn lobe lifts less: it falls below.`,
  }),
  'specification-not-looked-up': (values) => ({
    seen: `The verdict is right, but the row of camshaft ${textIn(values, 'letter')} was never looked up.`,
    why: 'Engines alike from outside may have other camshafts. A verdict without its specification is a guess.',
  }),
  'specification-row-wrong': (values, { specification }) => ({
    seen: `It looks as if the lift was held against the row of camshaft ${textIn(values, 'row')}. This one carries the letter ${textIn(values, 'letter')}.`,
    why: `For ${textIn(values, 'letter')} the limits are ${limitWords(specification)}. The letter is read off the part before the page is opened.`,
  }),
  'gauge-not-chosen': () => ({
    seen: 'No gauge was taken from the tray.',
    why: 'Travel, graduation and turn are read off the face before the gauge goes on the work.',
  }),
  'gauge-too-short': (values) => ({
    seen: `The gauge taken, ${gaugeWords(values, 'gauge')}, has too little travel for this lift.`,
    why: 'It wants the lift and 0.050 in (1.3 mm) more: for preload, and for what must be left at the top.',
  }),
  'gauge-too-fine': (values) => ({
    seen: `The gauge taken, ${gaugeWords(values, 'gauge')}, is too fine for a lift of this size.`,
    why: 'Its pointer would go round two dozen times and its travel ends before the nose. Nobody counts that without a slip.',
  }),
  'gauge-not-on-sheet': (values) => ({
    seen:
      textIn(values, 'written') === ''
        ? 'The sheet does not say which gauge was used.'
        : `The sheet says ${gaugeWords(values, 'written')}; the readings were taken with ${gaugeWords(values, 'used')}.`,
    why: 'A reading can be trusted later only with the gauge it was taken with, and the date that gauge was checked.',
  }),
  'next-when-too-close': (values) => ({
    seen: `The lift is too close to a limit to call, and “${wordsFor(FOLLOW_UP_WORDS, textIn(values, 'written'))}” was chosen.`,
    why: 'Within its uncertainty of a limit nothing is proven either way: measure again, on a fresh set-up or with a better gauge.',
  }),
  'next-not-written': () => ({
    seen: 'What to do next was not written.',
    why: 'The next person has to know what becomes of this lobe.',
  }),
  'next-without-verdict': () => ({
    seen: 'What to do next is written, but no verdict it could follow from.',
    why: 'What to do next follows from the verdict.',
  }),
  'condemned-on-one-set-up': (_values, about) => ({
    seen: 'Replacing was chosen without two set-ups that agree.',
    why: `No part is condemned on one reading. Set up afresh, and replace only when both agree within ${about.dial.unit === 'in' ? '0.001 in' : '0.025 mm'}.`,
  }),
  'returned-outside-limits': (values) => ({
    seen: `The verdict is ${wordsFor(VERDICT_WORDS, textIn(values, 'verdict'))}, yet the lobe goes back to service.`,
    why: 'A lobe outside its limits is measured again before anybody trusts it.',
  }),
  'next-not-the-best': (values) => ({
    seen: `“${wordsFor(FOLLOW_UP_WORDS, textIn(values, 'written'))}” was chosen. Here it would be: ${listIn(
      values,
      'right',
    )
      .map((one) => wordsFor(FOLLOW_UP_WORDS, one))
      .join(', or ')}.`,
    why: 'Inside and like the others, a lobe goes back to service. Below, it is measured again on a fresh set-up. Above, the set-up is suspected first. Two set-ups that agree settle it.',
  }),
  'below-the-others': (values, about) => ({
    seen: `The lobe is inside its limits, but ${graduationsAndLength(numberIn(values, 'belowGraduations'), about.dial)} below the mean of the others.`,
    why: `A lobe more than ${belowOthers(about)} below the others is measured again and reported, even inside its limits.`,
  }),
  'replaced-inside-limits': () => ({
    seen: 'The verdict is inside, yet replacing was chosen.',
    why: 'A part inside its limits is not thrown away.',
  }),
  'roller-not-written': () => ({
    seen: 'No verdict on the roller was written.',
    why: 'The roller has a verdict of its own: the gauge does not show heat, pits or scores.',
  }),
  'roller-passed': (values) => ({
    seen: `The roller was written down as sound. What was so: ${rollerState(values)}`,
    why: 'A roller that is blue, pitted, scored or flat takes the lobe with it. It is not used again.',
  }),
  'roller-condemned': () => ({
    seen: 'The roller is sound, yet it was written down as not to be used again.',
    why: 'A part that is sound is not thrown away.',
  }),
  'roller-not-looked-at': () => ({
    seen: 'The verdict on the roller is right, but nobody looked at it before the tappet was seated.',
    why: 'A verdict without a look is a guess. Look at colour, surface and shape while the tappet is out.',
  }),
} as const satisfies Record<string, Speak>;

const SAFETY = {
  'let-go-at-compression': (values) => {
    const times = numberIn(values, 'times');
    const moved = textIn(values, 'way') === 'ran-on' ? 'ran on' : 'rolled back';
    return {
      seen: `The bar was let go while the engine was pushing: the engine ${moved} ${numberIn(values, 'degrees')}°.${times > 1 ? ` It happened ${times} times.` : ''}`,
      why: 'Gas shut in at compression turns the engine by itself. A bar that swings can hurt: keep hold, pull, do not lean, and wait until the pressure has leaked off.',
    };
  },
} as const satisfies Record<string, Speak>;

const REMARKS = { ...SET_UP, ...PROCEDURE, ...READING, ...VERDICT, ...SAFETY };

/** Every code a remark may carry. */
export type RemarkCode = keyof typeof REMARKS;
export const REMARK_CODES = Object.keys(REMARKS) as readonly RemarkCode[];

export function isRemarkCode(code: string): code is RemarkCode {
  return Object.hasOwn(REMARKS, code);
}

/** What was seen and why it matters. A code of an older engine without words gives its code, and never an error. */
/** The dial named in a remark's values. */
function gaugeWords(values: Values, name: string): string {
  const dial = textIn(values, name);
  return Object.hasOwn(DIALS, dial) ? dialWords(dial as DialName) : 'another';
}

export function remarkWords(remark: Pick<Remark, 'code' | 'values'>, about: About): Words {
  if (!isRemarkCode(remark.code))
    return { seen: `Remark “${remark.code}”.`, why: 'There are no words for it any more.' };
  const speak: Speak = REMARKS[remark.code];
  return speak(remark.values, about);
}

function rollerState(values: Values): string {
  const words = wordsFor(ROLLER_WORDS, textIn(values, 'condition'));
  return words.charAt(0).toLowerCase() + words.slice(1);
}

function timesWords(times: number): string {
  return times === 0 ? 'not once' : times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`;
}

/** `2 graduations under zero`. */
function signedGraduations(graduations: number): string {
  if (graduations === 0) return 'zero';
  return `${graduationWords(graduations)} ${graduations < 0 ? 'below' : 'above'} zero`;
}

function liftWords(lift: number | null, dial: About['dial']): string {
  return lift === null ? 'blank' : lengthWords(lift, dial);
}

/** The mean of what the gauge showed, as the lift line is judged by it. */
function shownWords(lobe: NonNullable<About['lobe']>, dial: About['dial']): string {
  const shown = lobe.shown.filter((one) => one !== null);
  if (shown.length === 0) return 'the gauge showed no lift';
  return `the gauge showed ${lengthWords(shown.reduce((sum, one) => sum + one, 0) / shown.length, dial)}`;
}
