import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';

const folder = join(import.meta.dirname, '../../src/review/page');
const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
  name.endsWith('.tsx'),
);
const SPOKEN = new Set(['aria-label', 'title', 'alt', 'placeholder', 'aria-valuetext']);

/** Words written into a view itself: text between tags, or in an attribute that is read aloud. */
function wordsIn(name: string): string[] {
  const source = ts.createSourceFile(
    name,
    readFileSync(join(folder, name), 'utf8'),
    ts.ScriptTarget.ES2022,
    true,
  );
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node) && /\p{L}/u.test(node.text)) found.push(node.text.trim());
    if (ts.isJsxAttribute(node) && ts.isIdentifier(node.name) && SPOKEN.has(node.name.text))
      if (node.initializer !== undefined && ts.isStringLiteral(node.initializer))
        found.push(node.initializer.text);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

it('views hold no words of their own: all texts stand in src/review/page/texts', () => {
  expect(files.length).toBeGreaterThan(20);
  expect(
    Object.fromEntries(files.map((name) => [name, wordsIn(name)]).filter(([, words]) => words?.length)),
  ).toEqual({});
});
