import { type ReplayWorkData, sectionAt, viewAt } from '../models/replay-work.ts';
import type { ReplayMoment } from './replay-element.ts';
import { SectionView } from './section-view.ts';
import { WorkScene } from './work-scene.ts';

/** Lets the drawing of the work follow a replay. */
export function followReplay(place: HTMLElement, data: ReplayWorkData): (moment: ReplayMoment) => void {
  return 'sections' in data ? withSection(place, data) : withScene(place, data);
}

type Of<Key extends string> = Extract<ReplayWorkData, { readonly [K in Key]: unknown }>;

function withSection(place: HTMLElement, { sections }: Of<'sections'>): (moment: ReplayMoment) => void {
  const section = new SectionView(place);
  let at = -1;
  let drawn: string | null = null;
  return (moment) => {
    if (moment.at !== at) {
      at = moment.at;
      const svg = sectionAt(sections, at);
      const { svg: _, ...run } = sections[at] ?? { camDeg: [], tappetMm: [] };
      section.begin(svg === null || svg === drawn ? run : { ...run, svg });
      drawn = svg ?? drawn;
    }
    section.follow(moment.share);
  };
}

function withScene(place: HTMLElement, data: Of<'views'>): (moment: ReplayMoment) => void {
  const scene = new WorkScene(place, { brief: data.brief, view: data.first });
  let at = -1;
  return (moment) => {
    const { deg, plungerMm } = moment;
    if (moment.at !== at) {
      at = moment.at;
      scene.rest(viewAt(data.first, data.views, at), null);
    }
    scene.follow({ deg, plungerMm, effort: null, pointer: 0, counter: null });
  };
}
