/** The size of a picture that is to fit into a square of `most` pixels, its shape kept, never larger than it is. */
export function fittedSize(width: number, height: number, most: number): { width: number; height: number } {
  const scale = Math.min(1, most / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}
