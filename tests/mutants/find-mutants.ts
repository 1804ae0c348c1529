import ts from 'typescript';

/** One small change of a source file: what stands from `start` to `end` is replaced. */
export interface Mutant {
  readonly line: number;
  readonly start: number;
  readonly end: number;
  readonly was: string;
  readonly becomes: string;
}

/** A constant is made half as large again: further than any judgement is sure, not so far that only nonsense follows. */
const FACTOR = 1.5;

const OPPOSITE: ReadonlyMap<ts.SyntaxKind, string> = new Map([
  [ts.SyntaxKind.LessThanToken, '>='],
  [ts.SyntaxKind.LessThanEqualsToken, '>'],
  [ts.SyntaxKind.GreaterThanToken, '<='],
  [ts.SyntaxKind.GreaterThanEqualsToken, '<'],
  [ts.SyntaxKind.EqualsEqualsEqualsToken, '!=='],
  [ts.SyntaxKind.ExclamationEqualsEqualsToken, '==='],
]);

/** Comparisons with these only ask whether something is there: the compiler watches over them. */
const isAbsence = (node: ts.Node): boolean =>
  (ts.isIdentifier(node) && node.text === 'undefined') || node.kind === ts.SyntaxKind.NullKeyword;

/** Numbers other than 0, 1 and 2, each half as large again, and comparisons, each its opposite. */
export function findMutants(fileName: string, source: string): readonly Mutant[] {
  const file = ts.createSourceFile(fileName, source, ts.ScriptTarget.ES2022, true);
  const found: Mutant[] = [];
  const add = (node: ts.Node, becomes: string): void => {
    const start = node.getStart(file);
    found.push({
      line: file.getLineAndCharacterOfPosition(start).line + 1,
      start,
      end: node.getEnd(),
      was: node.getText(file),
      becomes,
    });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node)) return;
    if (ts.isNumericLiteral(node)) {
      const value = Number(node.text);
      if (![0, 1, 2].includes(value)) add(node, String(value * FACTOR));
    }
    if (ts.isBinaryExpression(node) && !isAbsence(node.left) && !isAbsence(node.right)) {
      const becomes = OPPOSITE.get(node.operatorToken.kind);
      if (becomes !== undefined) add(node.operatorToken, becomes);
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

export function mutated(source: string, { start, end, becomes }: Mutant): string {
  return source.slice(0, start) + becomes + source.slice(end);
}
