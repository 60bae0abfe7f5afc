/** Tags of a drawing that do not close in turn; none in a well-formed one. */
export function unclosedTags(svg: string): string[] {
  const open: string[] = [];
  for (const [, close, tag = '', self] of svg.matchAll(/<(\/?)([a-z]+)(?:\s[^<>]*?)?(\/?)>/gi)) {
    if (close === '/') {
      if (open.pop() !== tag) return [`</${tag}>`];
    } else if (self !== '/') open.push(tag);
  }
  return open;
}
