import type { Command } from 'commander';
import { didYouMean } from '../../watering/sentences/words/did-you-mean.js';
import { shownOn } from './fitted.js';

/** What the library says of a line that it can't take, as patterns, and what we say instead: what was typed, what was expected. */
const COMPLAINTS: readonly (readonly [RegExp, (...parts: readonly string[]) => string])[] = [
  [
    /^option '([^' ]+)[^']*' argument '(.*)' is invalid\. (.*)$/s,
    (option = '', value = '', expected = '') => `${option} "${value}": ${expectation(value, expected)}`,
  ],
  [
    /^option '([^' ]+)[^']*' value '(.*)' from env '(\w+)' is invalid\. (.*)$/s,
    (option = '', value = '', variable = '', expected = '') =>
      `${option} "${value}", from ${variable}: ${expectation(value, expected)}`,
  ],
  [
    /^command-argument value '(.*)' is invalid for argument '\w+'\. (.*)$/s,
    (value = '', expected = '') => `"${value}": ${expectation(value, expected)}`,
  ],
  [/^missing required argument '(.*)'$/, (name = '') => `A word is missing: <${name}>.`],
  [
    /^option '([^' ]+) ?([^']*)' argument missing$/,
    (option = '', what = '') => `${option} wants a word after it: ${option} ${what}.`,
  ],
  [/^required option '([^']*)' not specified$/, (flags = '') => `${flags} is missing.`],
  [
    /^option '([^' ]+)[^']*' cannot be used with option '([^' ]+)[^']*'$/,
    (one = '', other = '') => `${one} and ${other} don't go together: leave one away.`,
  ],
  [
    /^unknown option '([^']*)'(?:\s*\(Did you mean ([^?]*)\?\))?$/s,
    (option = '', meant = '') =>
      `There is no option ${option}.${meant === '' ? '' : ` Did you mean ${meant}?`}`,
  ],
  [
    /^unknown command '([^']*)'(?:\s*\(Did you mean ([^?]*)\?\))?$/s,
    (word = '', meant = '') =>
      `There is no command "${word}".${meant === '' ? '' : ` Did you mean "${meant}"?`}`,
  ],
  [
    /^too many arguments(?: for '([^']*)')?\. Expected (\d+) arguments? but got (\d+)\.$/,
    (command = '', expected = '', got = '') =>
      `${command === '' ? 'drybell' : command} takes ${expected === '0' ? 'no word' : expected === '1' ? 'one word' : `${expected} words`} after it, and got ${got}; a name with a space goes between quotes.`,
  ],
];

/** "Allowed choices are a, b." says what is allowed and not what was meant. */
function expectation(value: string, expected: string): string {
  const [, choices] = /^Allowed choices are (.*)\.$/s.exec(expected) ?? [];
  return choices === undefined
    ? expected
    : `expected one of ${choices}.${didYouMean(value, choices.split(', '))}`;
}

/** One line about a command line that can't be used, in our words; the library's own where it says something new. */
export function complaint(text: string): string {
  const said = text.trim().replace(/^error: /, '');
  for (const [pattern, sentence] of COMPLAINTS) {
    const match = pattern.exec(said);
    if (match !== null) return sentence(...match.slice(1).map((part) => part ?? ''));
  }
  return said;
}

/** Makes a command and those that are added to it later complain in our words, and fit what they say to the terminal. */
export function withComplaints(program: Command): Command {
  return program.configureOutput({
    outputError: (text, write) => write(`${complaint(text)}\n`),
    writeOut: (text) => void process.stdout.write(shownOn(process.stdout, text)),
    writeErr: (text) => void process.stderr.write(shownOn(process.stderr, text)),
  });
}

/** Each complaint is followed by where to look: the help of the command that was typed. */
export function pointToHelp(command: Command, name = command.name()): void {
  command.showHelpAfterError(`(${name} --help tells more)`);
  for (const below of command.commands) pointToHelp(below, `${name} ${below.name()}`);
}
