import { type AnyBrief, isKind } from '../engine/index.ts';
import { type Box, type Desk, deskOf } from '../kinds/index.ts';
import type { TypedPart } from './views.ts';

/** The sheet as it was typed, box by box, whatever the kind. Cam lift shows its own with each lobe. */
export function typedParts(brief: AnyBrief, typed: Readonly<Record<string, string>>): TypedPart[] {
  if (isKind(brief, 'cam-lift')) return [];
  const desk = deskOf(brief.kind) as unknown as Pick<Desk<'run-out'>, never> & {
    form(brief: AnyBrief): ReturnType<Desk<'run-out'>['form']>;
  };
  return desk.form(brief).map(({ title, sets }) => ({
    title,
    rows: sets.flatMap(({ boxes }) =>
      boxes.map((box) => ({ label: box.label, typed: typedWords(box, typed[box.name] ?? '') })),
    ),
  }));
}

function typedWords(box: Box<unknown>, text: string): string {
  if (text.trim() === '') return 'blank';
  if (box.box === 'choice') return box.options.find(({ value }) => value === text)?.text ?? text;
  return 'unit' in box && box.unit !== undefined ? `${text} ${box.unit}` : text;
}
