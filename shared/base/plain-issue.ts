import type { z } from 'zod';

/** What the schema library calls a kind of value, and what we call it. */
const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text in double quotes',
  boolean: 'true or false',
  array: 'a list in [ ]',
  object: 'keys and values in { }',
  record: 'keys and values in { }',
  null: 'null',
  Infinity: 'a number beyond all',
  NaN: 'no number',
};
const kindWords = (kind: string): string => KINDS[kind] ?? kind;

/** How many of a thing are allowed. */
function boundWords(issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig): string {
  const isLeast = issue.code === 'too_small';
  const bound = String(isLeast ? issue.minimum : issue.maximum);
  if (issue.origin === 'string') {
    if (isLeast && bound === '1') return 'is empty; expected some text';
    return `expected ${isLeast ? 'at least' : 'at most'} ${bound} characters`;
  }
  if (issue.origin === 'array' || issue.origin === 'set')
    return `expected ${isLeast ? 'at least' : 'at most'} ${bound} ${bound === '1' ? 'entry' : 'entries'}`;
  if (issue.inclusive === false) return `expected ${isLeast ? 'more' : 'less'} than ${bound}`;
  return `expected ${bound} or ${isLeast ? 'more' : 'less'}`;
}

/**
 * What was expected of a value, in words that help whoever wrote it: the schema's own sentence where it has one, ours in the place
 * of the library's.
 */
export function plainIssue(issue: z.core.$ZodIssue): string {
  const { message } = issue;
  switch (issue.code) {
    case 'invalid_type': {
      const [, received] = /^Invalid input: expected \S+, received (.*)$/.exec(message) ?? [];
      // a whole number was asked for and a broken one found: the library calls both a number
      const expected = kindWords(issue.expected);
      if (received === undefined) return message;
      if (received === 'undefined') return `is missing; expected ${expected}`;
      return issue.expected === 'int' && received === 'number'
        ? `expected ${expected}`
        : `expected ${expected}, found ${kindWords(received)}`;
    }
    case 'invalid_value':
      return /^Invalid (option|input): /.test(message)
        ? `expected ${issue.values.length === 1 ? '' : 'one of '}${issue.values.map(String).join(', ')}`
        : message;
    case 'invalid_union': {
      const [, values] = /^Invalid discriminator value\. Expected (.*)$/s.exec(message) ?? [];
      return values === undefined
        ? message
        : `expected one of ${values.replaceAll("'", '').replaceAll(' | ', ', ')}`;
    }
    case 'too_small':
    case 'too_big':
      return /^Too (small|big): /.test(message) ? boundWords(issue) : message;
    default:
      return message;
  }
}
