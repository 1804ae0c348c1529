import ts from 'typescript';

/** One small change of a source file: a number that is another one, or a comparison (`start` to `end`) that says the opposite. */
export interface Mutant {
  readonly kind: 'number' | 'comparison';
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

/** A key of an object that is written as a number. */
const isName = (node: ts.Node): boolean => ts.isPropertyAssignment(node.parent) && node.parent.name === node;

/** Numbers other than 0, 1 and 2, each half as large again, and comparisons, each its opposite. */
export function findMutants(fileName: string, source: string): readonly Mutant[] {
  const file = ts.createSourceFile(fileName, source, ts.ScriptTarget.ES2022, true);
  const found: Mutant[] = [];
  const add = (kind: Mutant['kind'], whole: ts.Node, said: ts.Node, becomes: string): void => {
    found.push({
      kind,
      line: file.getLineAndCharacterOfPosition(said.getStart(file)).line + 1,
      start: whole.getStart(file),
      end: whole.getEnd(),
      was: said.getText(file),
      becomes,
    });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node)) return;
    if (ts.isNumericLiteral(node) && !isName(node)) {
      const value = Number(node.text);
      if (![0, 1, 2].includes(value)) add('number', node, node, String(value * FACTOR));
    }
    if (ts.isBinaryExpression(node) && !isAbsence(node.left) && !isAbsence(node.right)) {
      const becomes = OPPOSITE.get(node.operatorToken.kind);
      if (becomes !== undefined) add('comparison', node, node.operatorToken, becomes);
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

/** Global that says which mutant lives in what is loaded next; without it the environment does. */
export const LIVING_GLOBAL = 'drybellMutant';
export const LIVING_ENV = 'DRYBELL_MUTANT';

const SWITCH =
  `const living_ = globalThis.${LIVING_GLOBAL} ?? Number(process.env.${LIVING_ENV} ?? -1);` +
  'const turned_ = (id, said) => (living_ === id ? !said : said);';

/**
 * A file in which all its mutants sleep, the first with the number `firstId`: one copy of the project serves them all, and which one
 * lives is said when it is loaded. On the same lines as before.
 */
export function switchable(source: string, mutants: readonly Mutant[], firstId: number): string {
  const inserts = mutants.flatMap(({ kind, start, end, becomes }, place) =>
    kind === 'number'
      ? [
          { at: start, opens: true, other: end, text: `(living_ === ${firstId + place} ? ${becomes} : ` },
          { at: end, opens: false, other: start, text: ')' },
        ]
      : [
          { at: start, opens: true, other: end, text: `turned_(${firstId + place}, ` },
          { at: end, opens: false, other: start, text: ')' },
        ],
  );
  // At one place what ends comes before what begins, the outermost begins first and the innermost ends first.
  inserts.sort((a, b) => a.at - b.at || Number(a.opens) - Number(b.opens) || b.other - a.other);
  let [text, from] = [SWITCH, 0];
  for (const insert of inserts) {
    text += source.slice(from, insert.at) + insert.text;
    from = insert.at;
  }
  return text + source.slice(from);
}
