import {
  type AnyAction,
  type AnyView,
  brief,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftSheet,
  DIALS,
  type Dial,
  type Perception,
  type TraceRun,
} from '../engine/index.ts';
import {
  type About,
  actionWords,
  BOX_WORDS,
  limitWords,
  perceptionWords,
  placed,
  placeWords,
  remarkWords,
  stopWords,
} from '../web/words/index.ts';
import { cleanCycle, lineAlong } from './clean-run.ts';
import type { GradedKind, GradedParts, GradedWork } from './graded-kind.ts';
import { type GradedPlate, gradedLobes, isGeneral } from './graded-lobes.ts';
import { listed } from './log-lines.ts';
import { highIn } from './moments.ts';

/** The graded side of cam lift: a lobe each, with its limits as a bar and its plot against a clean run. */
export function camLiftGraded(bench: CamLiftBench): GradedKind {
  const plate: GradedPlate = { ...brief(bench), specification: bench.specification };
  const cycles = new Map<number, ReturnType<typeof cleanCycle>>();
  const cycleOf = (position: number) => {
    const known = cycles.get(position);
    if (known !== undefined) return known;
    const cycle = cleanCycle(bench, position);
    cycles.set(position, cycle);
    return cycle;
  };
  const kind: GradedKind = {
    plate: plate.engineName,
    specification: [specificationWords(plate)],
    turned: 'crank barred',
    logWords: {
      did: (action) => actionWords(action as CamLiftAction),
      said: (one) => perceptionWords(one as Perception),
      wrote,
    },
    dialOf: (view) => dialInHand(bench, view),
    dialOfRun: () => plate.dial,
    runTitle: ({ position }) => `Position ${position}`,
    cleanLine: (run) => {
      if (!bench.positions.includes(run.position) || run.crankDeg.length < 2) return null;
      const cycle = cycleOf(run.position);
      return cycle === null ? null : lineAlong(cycle, run);
    },
    tell: (work) => tell(plate, kind, work),
  };
  return kind;
}

function dialInHand(bench: CamLiftBench, view: AnyView): Dial | null {
  if (bench.tray.length === 0 || !('gauge' in view)) return bench.dial;
  if (view.gauge === null) return null;
  return bench.tray.find(({ dialName }) => dialName === view.gauge)?.dial ?? DIALS[view.gauge];
}

function tell(plate: GradedPlate, kind: GradedKind, work: GradedWork): GradedParts {
  const { grade, trace, momentAt } = work;
  const sheet = work.sheet as CamLiftSheet;
  const aboutLobe = (position: number | null): About => ({
    dial: plate.dial,
    specification: plate.specification,
    lobe: grade.lobes.find((lobe) => lobe.position === position) ?? null,
    written: sheet.lobes.find((lobe) => lobe.position === position) ?? null,
  });
  return {
    stops: grade.stops.map((stop, index) => {
      const words = stopWords(stop, aboutLobe(stop.position));
      const place = placeWords({ position: stop.position, reading: null });
      // What was passed by is to be seen at the high point, if the lobe was measured at all.
      const high = stop.code === 'bad-lobe-passed' ? highIn(trace, stop.position) : null;
      return {
        ref: `stop.${index}.${stop.code}`,
        seen: placed(place, words.seen),
        why: words.why,
        moment: momentAt(high ?? stop.at, 'highest'),
      };
    }),
    general: grade.remarks.flatMap((remark, index) =>
      isGeneral(remark)
        ? [
            {
              ref: `remark.${index}.${remark.code}`,
              ...remarkWords(remark, aboutLobe(remark.position)),
              place: '',
              criterion: '',
              cost: remark.pointsLost,
              moment: momentAt(remark.at, 'last'),
            },
          ]
        : [],
    ),
    lobes: gradedLobes({
      plate,
      grade,
      sheet,
      trace,
      momentAt,
      aboutLobe,
      cleanLine: (run: TraceRun) => kind.cleanLine(run),
    }),
    items: [],
  };
}

function specificationWords({ specification }: GradedPlate): string {
  const { nominal, unit } = specification;
  return `Nominal ${nominal.toFixed(unit === 'in' ? 3 : 2)} ${unit}; limits ${limitWords(specification)}`;
}

function wrote(notes: readonly AnyAction[]): string {
  const [first] = notes as readonly CamLiftAction[];
  if (first?.type !== 'note') return '';
  const boxes = (notes as readonly CamLiftAction[]).flatMap((note) =>
    note.type === 'note' ? [BOX_WORDS[note.box]] : [],
  );
  return `Wrote ${listed(boxes)}, reading ${first.reading}, position ${first.position}.`;
}
