import type { Dial, NamedMistake, Remark } from '../../engine/index.ts';
import { BORE_MISTAKES, BORE_REMARKS } from './bore-words.ts';
import { FOLLOW_UP_WORDS, wordsFor } from './codes.ts';
import { FAULT_REMARKS } from './fault-words.ts';
import { boxWords, GAUGED_VERDICT_WORDS } from './gauged-codes.ts';
import { INDICATOR_MISTAKES, INDICATOR_REMARKS } from './indicator-remarks.ts';
import { graduationsAndLength, graduationWords } from './lengths.ts';
import { TORQUE_MISTAKES, TORQUE_REMARKS } from './torque-remarks.ts';
import { listIn, numberIn, type Speak, textIn, type Values, type Words } from './types.ts';
import { VALVE_MISTAKES, VALVE_REMARKS } from './valve-words.ts';

const WRITTEN_WHY = 'What is not written cannot be judged, and nobody can look at it again later.';
const verdict = (values: Values, name: string) => wordsFor(GAUGED_VERDICT_WORDS, textIn(values, name));
const next = (code: string) => wordsFor(FOLLOW_UP_WORDS, code);
const box = (values: Values) => boxWords(textIn(values, 'box'));

/** Remarks of the kinds that have an indicator on a stand: what was seen, and why it matters. The compiler knows every code here. */
const GAUGED = {
  ...BORE_REMARKS,
  ...VALVE_REMARKS,
  ...FAULT_REMARKS,
  'nothing-set-up': () => ({
    seen: 'The indicator was never set on this.',
    why: 'Without a set-up there is nothing to read.',
  }),
  'base-not-wiped': () => ({
    seen: 'The base was set down on a place that had not been wiped.',
    why: 'A base on grit or oil can rock, and the zero goes with it.',
  }),
  'not-lined-up': (values) => ({
    seen: `The plunger leaned ${numberIn(values, 'leanDeg')}° from the movement. Here that changes the reading by ${graduationWords(numberIn(values, 'offGraduations'))}.`,
    why: 'A plunger that leans shows another length than the one that is moved. The more it leans, the more.',
  }),
  'little-preload': (values) => ({
    seen: `The plunger was in by ${numberIn(values, 'turns')} of a turn.`,
    why: 'With less than a quarter turn the tip may leave the work, and then the pointer stands still.',
  }),
  'tip-left': () => ({
    seen: 'The tip came off the work.',
    why: 'While it is off, the gauge shows nothing of what the work does.',
  }),
  'no-travel-left': () => ({
    seen: 'Less than a quarter turn of travel was left at the deepest place.',
    why: 'At the end of its travel the plunger pushes the stand away, and the zero is lost.',
  }),
  'tip-not-tried': (values) => ({
    seen: `The tip was lifted and let down ${numberIn(values, 'lifts')} of 3 times before reading.`,
    why: 'Only a gauge that comes back to the same place can be believed.',
  }),
  'bezel-left-free': (values) => ({
    seen: `The bezel was not clamped while the work was moved. It turned by ${graduationWords(numberIn(values, 'movedGraduations'))}.`,
    why: 'A free bezel turns when it is shaken or touched, and the zero turns with it.',
  }),
  'never-zeroed': () => ({
    seen: 'The gauge was not zeroed here.',
    why: 'Without a zero there is no place to count from.',
  }),
  'zero-off-the-stop': (values) => ({
    seen: `Zero was taken ${graduationWords(numberIn(values, 'offGraduations'))} away from the stop.`,
    why: 'The whole movement is from one stop to the other. Pry fully one way first, then zero.',
  }),
  'zero-off-the-flank': () => ({
    seen: 'Zero was taken with the tooth between its flanks.',
    why: 'Rock the gear fully one way first, then zero. Otherwise a part of the play is not seen.',
  }),
  'zero-off-the-deck': () => ({
    seen: 'Zero was taken with the tip on a liner.',
    why: 'Protrusion is counted from the block. Zero on the deck, and plus is above it.',
  }),
  'gear-not-held': () => ({
    seen: 'The gear was rocked while the other one was free.',
    why: 'A gear that is not held turns along, and the gauge shows more than the play.',
  }),
  'never-moved': () => ({
    seen: 'Nothing was moved or looked at under a zero.',
    why: 'The measurement is the movement after the zero.',
  }),
  'hub-not-seated': () => ({
    seen: 'The hub was pushed or pulled lightly, or without turning it to and fro.',
    why: 'Rollers seat only when the hub is turned to and fro about 45° under a firm hand. Before that the play looks small.',
  }),
  'not-pried-fully': () => ({
    seen: 'The shaft was pried too lightly to come to its stop.',
    why: 'An oil film holds the shaft off its thrust face until it is squeezed out.',
  }),
  'one-way-only': () => ({
    seen: 'After the zero the shaft was not pried the other way.',
    why: 'End play is the whole movement, from one stop to the other.',
  }),
  'read-only-once': () => ({
    seen: 'The movement was read only once.',
    why: 'A second reading that agrees shows that the first was no accident.',
  }),
  'zero-not-seen-again': () => ({
    seen: 'The work was not brought back to where it was zeroed.',
    why: 'Only a pointer that comes back to zero shows that the zero was kept.',
  }),
  'not-a-whole-turn': (values) => ({
    seen: `The work was turned ${numberIn(values, 'turnedDeg')}° under the zero.`,
    why: 'High and low lie half a turn apart, and nobody knows where before. Turn it once round.',
  }),
  'not-back-to-zero': () => ({
    seen: 'The work was not stopped again where it was zeroed, a whole turn on.',
    why: 'Only a pointer that comes back to zero shows that nothing moved but the work.',
  }),
  'not-pushed-one-way': (values) => ({
    seen: `The face was turned ${numberIn(values, 'degrees')}° without pushing the shaft against its stop.`,
    why: 'A shaft that wanders along its axis looks like a face that is not true.',
  }),
  'one-tooth-only': () => ({
    seen: 'Backlash was measured at one tooth only.',
    why: 'Gears do not wear evenly. One tooth tells nothing of the others.',
  }),
  'teeth-left-out': (values) => ({
    seen: `Backlash was measured at ${numberIn(values, 'measured')} of ${numberIn(values, 'wanted')} teeth.`,
    why: 'Gears do not wear evenly. The tightest tooth may be one that was left out.',
  }),
  'not-rocked-fully': () => ({
    seen: 'The gear was rocked too softly to touch both flanks.',
    why: 'Oil between the teeth holds them apart until it is pressed out.',
  }),
  'liner-not-pressed': () => ({
    seen: 'The liner was read before it was clamped down.',
    why: 'A liner that is not clamped stands on its seals, higher than it will under the head.',
  }),
  'movement-not-watched': () => ({
    seen: 'The movement of this pointer was not watched.',
    why: 'A pointer looks the same after every turn. Only who sees it run can count the turns.',
  }),
  'written-before-watching': () => ({
    seen: 'The reading was written before the movement was watched.',
    why: 'Watch first, then write. A number that comes before the reading is a guess.',
  }),
  'drill-not-written': () => ({ seen: 'No reading is written for this drill.', why: WRITTEN_WHY }),
  'drill-off': (values, dial) => ({
    seen: `The reading written is ${graduationsAndLength(numberIn(values, 'offGraduations'), dial)} ${numberIn(values, 'offGraduations') < 0 ? 'below' : 'above'} what the gauge showed; plus is plunger in.`,
    why: 'Whatever is decided on a reading stands or falls with it.',
  }),
  'points-left-out': (values) => ({
    seen: `The liner was read at ${numberIn(values, 'measured')} of ${numberIn(values, 'wanted')} points.`,
    why: 'A liner can stand crooked. Four points show it.',
  }),
  'zero-off-the-base-circle': (values) => ({
    seen: `Zero was taken ${graduationWords(numberIn(values, 'offGraduations'))} up the lobe.`,
    why: 'Lift is counted from the base circle. Bar until the pointer stands still at its lowest, then zero.',
  }),
  'wheel-off': (values) => ({
    seen: `The pointer of the degree wheel stood ${numberIn(values, 'offDeg')}° off top dead centre.`,
    why: 'Every angle on the sheet is off by as much, the lobe centre too. Try the piston stop and set the pointer.',
  }),
  'event-not-covered': () => ({
    seen: 'The table does not pass the checking lift on both sides of the high point.',
    why: 'Width and centre need the place where the lobe opens and the place where it closes.',
  }),
  'points-too-far-apart': (values) => ({
    seen: `Two neighbours in the table are ${numberIn(values, 'gapDeg')}° apart.`,
    why: 'Between points that far apart the curve may do anything. Read every few degrees of crank.',
  }),
  'flank-too-thin': (values) => ({
    seen: `Where the lobe passes the checking lift, two neighbours are ${numberIn(values, 'gapDeg')}° apart.`,
    why: 'A flank bends. A straight line between points more than about 6° apart misses opening or closing by a noticeable part of a degree.',
  }),
  'read-while-backing': (values) => ({
    seen: `${numberIn(values, 'lines')} lines were read with the play of the gears not taken up. The cam lagged by ${numberIn(values, 'lagDeg')}° of crank.`,
    why: 'The height of the lobe does not change, but the angle it is read at does. Go back at least 30° and come forward to the mark.',
  }),
  'backed-up-a-little': (values) => ({
    seen: `The crank was barred back only ${numberIn(values, 'backDeg')}° before coming forward again.`,
    why: 'Go back at least 30°, so that the play is surely taken up on the way forward.',
  }),
  'not-back-on-base-circle': () => ({
    seen: 'The crank was not stopped on the base circle again after the high point.',
    why: 'Only a pointer that comes back to zero shows that the zero was kept.',
  }),
  'table-blank': () => ({ seen: 'The table holds no readings.', why: WRITTEN_WHY }),
  'points-off': (values) => ({
    seen: `${numberIn(values, 'off')} of ${numberIn(values, 'of')} lines are off what the gauge showed there, by up to ${graduationWords(numberIn(values, 'mostGraduations'))}.`,
    why: 'Width, centre and lift all come from these lines.',
  }),
  'points-never-shown': (values) => ({
    seen: `${numberIn(values, 'unseen')} of ${numberIn(values, 'of')} lines have a crank angle at which the crank was never stopped.`,
    why: 'A record may hold only what was measured.',
  }),
  'degrees-off': (values) => ({
    seen: `“${box(values)}” is ${Math.abs(numberIn(values, 'offDeg'))}° ${numberIn(values, 'offDeg') < 0 ? 'less' : 'more'} than what is written gives.`,
    why: 'Work it out once more from your own table.',
  }),
  'result-without-measurement': () => ({
    seen: 'Results are written, but nothing was measured here.',
    why: 'A record may hold only what was measured.',
  }),
  'result-not-written': (values) => ({ seen: `The box “${box(values)}” is blank.`, why: WRITTEN_WHY }),
  'result-from-nothing': (values) => ({
    seen: `“${box(values)}” is written, but the boxes it comes from are blank.`,
    why: 'Whoever reads the sheet must be able to work it out again.',
  }),
  'result-never-shown': (values) => ({
    seen: `“${box(values)}” is written, but the gauge never stood there.`,
    why: 'A record may hold only what was measured.',
  }),
  'high-spot-off': (values) => ({
    seen: `The high spot written is ${numberIn(values, 'offDeg')}° away from where the pointer stood highest.`,
    why: 'What is done about run-out starts at the high spot.',
  }),
  'result-not-worked-out': (values, dial) => ({
    seen: `“${box(values)}” is ${graduationsAndLength(numberIn(values, 'offGraduations'), dial)} ${numberIn(values, 'offGraduations') < 0 ? 'less' : 'more'} than the boxes it comes from give.`,
    why: 'The gauge was read, but the sum is not right. Work it out once more from what you wrote.',
  }),
  'result-off': (values, dial) => ({
    seen: `“${box(values)}” is ${graduationsAndLength(numberIn(values, 'offGraduations'), dial)} ${numberIn(values, 'offGraduations') < 0 ? 'less' : 'more'} than the gauge showed.`,
    why: 'The verdict stands on this number.',
  }),
  'bad-part-passed': () => ({
    seen: 'This is not inside its limits, and it was written down as inside.',
    why: 'It would go back to work. That is what the measurement must prevent.',
  }),
  'lost-with-bad-part': () => ({
    seen: 'No points for this verdict, because another one passed a bad part.',
    why: 'One bad part passed is enough to spoil the job.',
  }),
  'no-verdict': () => ({ seen: 'No verdict is written.', why: 'The measurement is made to come to one.' }),
  'verdict-without-result': () => ({
    seen: 'A verdict is written without the results it stands on.',
    why: 'A verdict has to follow from a number.',
  }),
  'verdict-not-from-result': (values) => ({
    seen: `What is written calls for “${verdict(values, 'right')}”; the verdict says “${verdict(values, 'written')}”.`,
    why: 'Hold each number against both sides of its limits. A number on the limit is inside.',
  }),
  'no-next': () => ({ seen: 'What to do next is not written.', why: 'Somebody has to do it.' }),
  'next-without-a-verdict': () => ({
    seen: 'What to do next is written without a verdict.',
    why: 'What to do follows from the verdict.',
  }),
  'replaced-though-inside': () => ({
    seen: 'The verdict says inside, and it is to be replaced.',
    why: 'A good part thrown away costs money and an afternoon.',
  }),
  'another-next-is-better': (values) => ({
    seen: `Better than “${next(textIn(values, 'written'))}” here: “${listIn(values, 'right').map(next).join('” or “')}”.`,
    why: 'What to do next follows from the verdict, and from how often it was measured.',
  }),
  'condemned-on-one-setting': () => ({
    seen: 'It is to be replaced on one set-up of the gauge.',
    why: 'Set up afresh and measure again first. A set-up can be wrong as easily as a part.',
  }),
  'returned-though-outside': (values) => ({
    seen: `The verdict says “${verdict(values, 'verdict')}”, and it is to go back to service.`,
    why: 'What is outside its limits does not go back to work.',
  }),
  ...INDICATOR_REMARKS,
  ...TORQUE_REMARKS,
} satisfies Record<string, Speak>;

export type GaugedRemarkCode = keyof typeof GAUGED;
export const GAUGED_REMARK_CODES = Object.keys(GAUGED) as readonly GaugedRemarkCode[];

export function isGaugedRemarkCode(code: string): code is GaugedRemarkCode {
  return Object.hasOwn(GAUGED, code);
}

/** What was seen and why it matters, of the kinds other than cam lift. A code without words gives its code, and never an error. */
export function gaugedRemarkWords(remark: Pick<Remark, 'code' | 'values'>, dial: Dial): Words {
  if (!isGaugedRemarkCode(remark.code))
    return { seen: `Remark “${remark.code}”.`, why: 'There are no words for it any more.' };
  const speak: Speak = GAUGED[remark.code];
  return speak(remark.values, dial);
}

/** Each mistake as the end of “It looks as if …”, and what to know about it. */
const MISTAKES = {
  ...BORE_MISTAKES,
  ...VALVE_MISTAKES,
  ...INDICATOR_MISTAKES,
  ...TORQUE_MISTAKES,
  'sign-turned': {
    clause: 'plus and minus were turned round',
    why: 'Plunger in is plus: the work has come towards the gauge. In a bore that is a smaller bore.',
  },
  halved: {
    clause: 'only half of the movement was written',
    why: 'Read from one end of the movement to the other, and check what one graduation is worth.',
  },
  doubled: {
    clause: 'twice the movement was written',
    why: 'Read the movement once from end to end, and check what one graduation is worth.',
  },
  'decimal-place': {
    clause: 'the decimal point was put in the wrong place',
    why: 'Say one graduation aloud before you write, and the point falls into its place.',
  },
  'half-not-taken': {
    clause: 'the whole indicator reading was written for the eccentricity',
    why: 'A round part off centre by a length reads twice that length: the eccentricity is half the reading.',
  },
  'half-taken': {
    clause: 'half of the indicator reading was written for the whole',
    why: 'The total indicator reading is largest less smallest. Only the eccentricity is half of it.',
  },
  'largest-only': {
    clause: 'the largest reading was written for the whole',
    why: 'The total indicator reading is largest less smallest, wherever zero was.',
  },
  'sign-lost': {
    clause: 'a minus was left out when taking the difference',
    why: 'Taking away a minus adds it: from 3 down to minus 2 is 5.',
  },
  'inch-millimetre': {
    clause: 'inches and millimetres were mixed up',
    why: 'The face says which it is. One inch is exactly 25.4 mm.',
  },
  'missed-turn': {
    clause: 'a whole turn of the pointer was not counted',
    why: 'Compare the small hand before and after: it counts the turns.',
  },
  'extra-turn': {
    clause: 'a turn of the pointer was counted too much',
    why: 'Compare the small hand before and after: it counts the turns.',
  },
  'wrong-way-round': {
    clause: 'the face was read the wrong way round',
    why: 'When the pointer runs back from zero, count back from zero too: 95 is 5 on the minus side.',
  },
  'wrong-way': {
    clause: 'the face was read the wrong way round',
    why: 'Read up the numbers in the direction in which the pointer moves as the plunger goes in.',
  },
  'read-while-backing': {
    clause: 'readings were taken on the way back',
    why: 'Coming back, the cam lags behind the crank by the play of the gears.',
  },
  'crank-and-cam': {
    clause: 'degrees of crank and of cam were mixed up',
    why: 'The cam turns once for two turns of the crank: one degree of cam is two of crank.',
  },
  'other-height': {
    clause: 'it was taken at another lift than the one the sheet asks for',
    why: 'An event is wider lower down. Only at the same lift can two of them be compared.',
  },
  'high-point-for-centre': {
    clause: 'the high point was written for the lobe centre',
    why: 'The lobe is not symmetric. Its centre is the middle between opening and closing.',
  },
  'nothing-measured': {
    clause: 'nothing was measured here',
    why: 'The log holds no movement under a zeroed gauge.',
  },
} as const;

export const GAUGED_MISTAKES: readonly string[] = Object.keys(MISTAKES);

/** A mistake of these kinds by itself, as the end of “It looks as if …”; null for a code without a name. */
export function gaugedMistakeClause(code: string): string | null {
  return Object.hasOwn(MISTAKES, code) ? MISTAKES[code as keyof typeof MISTAKES].clause : null;
}

/** What went wrong with a result, said as carefully as it is known; never an accusation. */
export function gaugedMistakeWords({ mistakes, offGraduations }: NamedMistake): Words {
  const known = mistakes.flatMap((code) =>
    Object.hasOwn(MISTAKES, code) ? [MISTAKES[code as keyof typeof MISTAKES]] : [],
  );
  const [first, second] = known;
  if (first === undefined) {
    const off = offGraduations === null ? 'It is off' : `Off by ${graduationWords(offGraduations)}`;
    return {
      seen: `${off}; no one mistake explains it.`,
      why: 'Look at the log together with your instructor.',
    };
  }
  if (second === undefined) return { seen: `It looks as if ${first.clause}.`, why: first.why };
  return {
    seen: `It looks as if either ${first.clause} or ${second.clause}.`,
    why: `${first.why} ${second.why}`,
  };
}
