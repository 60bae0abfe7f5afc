import type { BriefOf, CamLiftAction, FaultAnswer, FaultFindingSheet } from '../engine/index.ts';
import { actionWords, FAULT_WORDS, perceptionWords } from '../web/words/index.ts';
import { gaugeInHand, specificationLines } from './cam-lift.ts';
import { ENGINE_ACTION, engineControls } from './engine-controls.ts';
import { choiceBox, FOLLOW_UPS, lengthBox, nextBox } from './shared.ts';
import type { Desk, SheetPart } from './types.ts';

type Brief = BriefOf<'fault-finding'>;

export const faultFinding: Desk<'fault-finding'> = {
  title: 'Fault finding',
  action: ENGINE_ACTION,
  plate: ({ engineName }) => engineName,
  dial: gaugeInHand,
  specification: specificationLines,
  facts: ({ firingOrder }) => [{ term: 'Firing order', text: firingOrder.join('-') }],
  orderOfWork: () => [
    'Measure the set-up as you find it: seat the tappet, let the indicator down, zero on the base circle, bar two turns and more. Write the high reading and the return.',
    'Watch what the gauge does: where it sets off, whether it stays up, steps, or comes home.',
    'Try what would tell: press on the rod, look along the bore, lift the tip, tighten each part. One at a time.',
    'Set right what you found. Measure again; write the high reading.',
    'Name the fault, and what it did to the reading in graduations: to the high, or to the return if that is more.',
    'If nothing was wrong, say so.',
  ],
  caution:
    'Power off and tagged, fuel shut and pressure bled, before anything is opened; keep hold of the bar at compression.',
  begin: () => 'One thing may be wrong here. Choose the pump position to begin.',
  controls: engineControls,
  form,
  partAt: () => null,
  sheet: (brief, boxes): FaultFindingSheet => ({
    fault: boxes.choice('fault', brief.offered),
    foundHigh: boxes.number('foundHigh'),
    foundReturn: boxes.number('foundReturn'),
    trueHigh: boxes.number('trueHigh'),
    effectGraduations: boxes.number('effect'),
    next: boxes.choice('next', FOLLOW_UPS),
  }),
  said: perceptionWords,
  did: (action) => actionWords(action),
  itemName: () => 'The set-up',
};

function form({ dial, offered, positions }: Brief): SheetPart<CamLiftAction>[] {
  const [position = 1] = positions;
  const note = (box: 'lift' | 'returned', reading: 1 | 2): CamLiftAction => ({
    type: 'note',
    position,
    reading,
    box,
  });
  return [
    {
      id: 'fault',
      title: 'What the gauge did',
      short: 'Sheet',
      sets: [
        {
          legend: 'As found',
          boxes: [
            lengthBox(dial, 'foundHigh', 'Highest reading as found', note('lift', 1)),
            lengthBox(dial, 'foundReturn', 'Return as found', note('returned', 1), { most: dial.travel }),
          ],
        },
        {
          legend: 'Set right',
          boxes: [
            lengthBox(dial, 'trueHigh', 'Highest reading once set right', note('lift', 2), {
              hint: 'The same again where nothing was wrong.',
            }),
          ],
        },
        {
          legend: 'The fault',
          boxes: [
            choiceBox<CamLiftAction, FaultAnswer>(
              'fault',
              'What was wrong',
              offered,
              (value) => FAULT_WORDS[value],
            ),
            {
              box: 'number',
              name: 'effect',
              label: 'What it did, graduations',
              least: 0,
              most: 2000,
              whole: false,
              sentence: 'Write graduations without a sign, for example 12.',
            },
            nextBox('next'),
          ],
        },
      ],
    },
  ];
}
