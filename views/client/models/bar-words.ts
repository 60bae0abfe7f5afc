/** Degrees barred since the zero, as a person counts them: whole turns of the crank and what is over. Null before a zero is nothing to say. */
export function barredWords(barredDeg: number | null): string {
  if (barredDeg === null) return '';
  const size = Math.round(Math.abs(barredDeg));
  const turns = Math.floor(size / 360);
  const over = size - turns * 360;
  const way = barredDeg < 0 ? ' back' : '';
  const counted = turns === 0 ? `${over}°` : `${turns} ${turns === 1 ? 'turn' : 'turns'} and ${over}°`;
  return `Barred since zero: ${counted}${way}.`;
}
