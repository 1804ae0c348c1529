import {
  createScanner,
  findNodeAtLocation,
  getNodeValue,
  type Node,
  type ParseError,
  parseTree,
  printParseErrorCode,
} from 'jsonc-parser';

/** A place in a text, counted from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** "line 3, column 7" */
export function placeText({ line, column }: Place): string {
  return `line ${line}, column ${column}`;
}

/** One thing that is wrong with a configuration: where, what was expected, what to do. */
export interface ConfigProblem {
  /** Absent where the text has no place for it. */
  readonly at?: Place | undefined;
  /** What it is about, by name: `trays[celery-1].bench`; empty for the whole. */
  readonly where: string;
  readonly message: string;
}

/** A text that is JSON: its value, and where in the text each part of it stands. */
export interface JsonText {
  readonly value: unknown;
  /** Place of the part at this path, or of the nearest one around it. */
  readonly placeOf: (path: readonly PropertyKey[]) => Place;
  /** `trays[celery-1].bench`: items of a list by their id, or by their number where they have none. */
  readonly nameOf: (path: readonly PropertyKey[]) => string;
}

/** Tokens of jsonc-parser's SyntaxKind, an enumeration that is gone once the library is compiled. */
const OPENING: readonly number[] = [1, 3];
const CLOSING: readonly number[] = [2, 4];
const END = 17;
/** Our deepest configuration has seven levels; reading goes down by calls, and a text of brackets would use them up. */
const DEEPEST_LEVEL = 64;

const syntaxWords: Readonly<Record<string, string>> = {
  InvalidSymbol: 'a word that JSON does not know; text goes between double quotes',
  InvalidNumberFormat: 'a number was expected',
  PropertyNameExpected: 'a key between double quotes was expected',
  ValueExpected: 'a value was expected',
  ColonExpected: 'a colon was expected after the key',
  CommaExpected: 'a comma was expected between two entries',
  CloseBraceExpected: 'a closing } is missing',
  CloseBracketExpected: 'a closing ] is missing',
  EndOfFileExpected: 'nothing was expected after the end of the configuration',
  UnexpectedEndOfComment: 'a comment is not closed',
  UnexpectedEndOfString: 'a closing double quote is missing',
  InvalidEscapeCharacter: 'an unknown \\ escape; write \\\\ for a backslash',
};

function placeAt(text: string, offset: number): Place {
  const before = text.slice(0, offset).split('\n');
  return { line: before.length, column: (before.at(-1)?.length ?? 0) + 1 };
}

/** Where brackets stand deeper than any configuration's; undefined where none do. */
function tooDeepAt(text: string): number | undefined {
  const scanner = createScanner(text, true);
  let depth = 0;
  for (let token: number = scanner.scan(); token !== END; token = scanner.scan()) {
    if (OPENING.includes(token)) depth += 1;
    if (CLOSING.includes(token)) depth -= 1;
    if (depth > DEEPEST_LEVEL) return scanner.getTokenOffset();
  }
  return undefined;
}

/** Keys that stand twice in one object, of which only the last would count, and `__proto__`, which would not count at all. */
function keyProblems(text: string, node: Node): ConfigProblem[] {
  const seen = new Map<string, number>();
  return (node.children ?? []).flatMap((child): ConfigProblem[] => {
    if (child.type !== 'property') return keyProblems(text, child);
    const [keyNode, valueNode] = child.children ?? [];
    if (keyNode === undefined) return [];
    const key = String(keyNode.value);
    const before = seen.get(key);
    seen.set(key, keyNode.offset);
    const said = { at: placeAt(text, keyNode.offset), where: key };
    if (key === '__proto__') return [{ ...said, message: 'unknown key; check its spelling, or take it out' }];
    if (before !== undefined)
      return [
        { ...said, message: `stands at ${placeText(placeAt(text, before))} already; keep one of them` },
      ];
    return valueNode === undefined ? [] : keyProblems(text, valueNode);
  });
}

function idOf(node: Node | undefined): string | undefined {
  const id = node?.type === 'object' ? findNodeAtLocation(node, ['id'])?.value : undefined;
  return typeof id === 'string' ? id : undefined;
}

/** Strings and numbers of a path; a symbol can't stand in JSON. */
const jsonPath = (path: readonly PropertyKey[]): (string | number)[] =>
  path.map((key) => (typeof key === 'symbol' ? String(key) : key));

function nodeAt(root: Node, path: readonly PropertyKey[]): Node | undefined {
  return findNodeAtLocation(root, jsonPath(path));
}

function placeOf(text: string, root: Node, path: readonly PropertyKey[]): Place {
  for (let length = path.length; length > 0; length--) {
    const node = nodeAt(root, path.slice(0, length));
    if (node === undefined) continue;
    const { offset } = node.parent?.type === 'property' ? node.parent : node;
    return placeAt(text, offset);
  }
  return placeAt(text, root.offset);
}

function nameOf(root: Node, path: readonly PropertyKey[]): string {
  return path.reduce<string>((name, key, index) => {
    if (typeof key === 'number') return `${name}[${idOf(nodeAt(root, path.slice(0, index + 1))) ?? key}]`;
    return name === '' ? String(key) : `${name}.${String(key)}`;
  }, '');
}

/** Reads JSON with comments and trailing commas, or says everything that is wrong with it as JSON. */
export function readJsonText(raw: string): JsonText | readonly ConfigProblem[] {
  const text = raw.replace(/^\uFEFF/, '');
  const deepAt = tooDeepAt(text);
  if (deepAt !== undefined)
    return [
      {
        at: placeAt(text, deepAt),
        where: '',
        message: `more than ${DEEPEST_LEVEL} brackets are open here; close those that are not wanted`,
      },
    ];
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { allowTrailingComma: true, disallowComments: false });
  if (errors.length > 0 || root === undefined)
    return errors.length === 0
      ? [{ where: '', message: 'is empty; drybell init writes one to begin with' }]
      : errors.map(({ error, offset }) => {
          const name = printParseErrorCode(error);
          return {
            at: placeAt(text, offset),
            where: '',
            message: syntaxWords[name] ?? `not valid JSON (${name})`,
          };
        });
  const problems = keyProblems(text, root);
  if (problems.length > 0) return problems;
  return {
    value: getNodeValue(root),
    placeOf: (path) => placeOf(text, root, path),
    nameOf: (path) => nameOf(root, path),
  };
}
