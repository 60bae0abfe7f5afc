import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { fromRoot } from '../../server/root.ts';

/** Every function at the engine's front door, with its docstring as it stands in the source. */
function frontDoor(): { readonly name: string; readonly doc: string }[] {
  const file = fromRoot('server', 'engine', 'index.ts');
  const program = ts.createProgram([file], {
    allowImportingTsExtensions: true,
    noEmit: true,
    target: ts.ScriptTarget.ESNext,
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
  });
  const checker = program.getTypeChecker();
  const source = program.getSourceFile(file);
  const door = source === undefined ? undefined : checker.getSymbolAtLocation(source);
  if (door === undefined) throw new Error('The front door could not be read.');
  return checker.getExportsOfModule(door).flatMap((exported) => {
    const symbol = exported.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(exported) : exported;
    const declarations = symbol.declarations?.filter(ts.isFunctionDeclaration) ?? [];
    if (declarations.length === 0) return [];
    const said = ts.displayPartsToString(symbol.getDocumentationComment(checker));
    const tags = symbol
      .getJsDocTags(checker)
      .map(({ name, text }) => `@${name} ${ts.displayPartsToString(text)}`);
    return [{ name: exported.name, doc: [said, ...tags].join('\n') }];
  });
}

describe('the docstrings of the front door', () => {
  const functions = frontDoor();

  it('are there to be read', () => expect(functions.length).toBeGreaterThan(35));

  it.each(functions)('$name says what it gives, its errors and its source', ({ doc }) => {
    expect(doc).toMatch(/Source: \S/);
    expect(doc).toMatch(/@throws \S|Never throws/);
    // Units are named, or it is said that there are none.
    expect(doc).toMatch(
      /unit|millimetre|inch|degree|graduation|turns|torque|probabilit|points|as the definition gives|name/i,
    );
  });
});
