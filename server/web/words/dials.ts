import { DIALS, type DialName } from '../../engine/index.ts';

/** What is printed on a dial: `0.001 in, 1 in of travel, balanced face`. The usual face and small hand are not said. */
export function dialWords(name: DialName): string {
  const { unit, graduation, travel, face, counter } = DIALS[name];
  const usual = `${graduation} ${unit}, ${travel} ${unit} of travel`;
  const odd = [
    face === 'balanced' ? 'balanced face' : '',
    counter === 'none' ? 'no small hand' : counter === 'backwards' ? 'small hand turns backwards' : '',
  ].filter((words) => words !== '');
  return [usual, ...odd].join(', ');
}
