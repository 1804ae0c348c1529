import type { Command } from 'commander';

/** One file of commands: the words that call it, and how it is loaded when it is wanted. */
export interface CommandFile {
  readonly words: readonly string[];
  readonly load: () => Promise<{ register(program: Command): void }>;
}

/** What the completion of a shell asks; nobody types it. */
export const COMPLETE = 'complete';

/** All commands in the order of the help text. A file is loaded only when one of its words is given, or for the help. */
export const commandFiles: readonly CommandFile[] = [
  { words: ['run'], load: () => import('./commands/run.js') },
  { words: ['demo'], load: () => import('./commands/demo.js') },
  { words: ['init'], load: () => import('./commands/init.js') },
  { words: ['check'], load: () => import('./commands/check.js') },
  { words: ['status'], load: () => import('./commands/status.js') },
  { words: ['round'], load: () => import('./commands/round.js') },
  { words: ['watered'], load: () => import('./commands/watered.js') },
  { words: ['tray'], load: () => import('./commands/tray.js') },
  { words: ['alarm'], load: () => import('./commands/alarm.js') },
  { words: ['call'], load: () => import('./commands/call.js') },
  { words: ['away', 'back'], load: () => import('./commands/away.js') },
  { words: ['note', 'undo'], load: () => import('./commands/note.js') },
  { words: ['listen'], load: () => import('./commands/listen.js') },
  { words: ['explain'], load: () => import('./commands/explain.js') },
  { words: ['estimate'], load: () => import('./commands/estimate.js') },
  { words: ['review'], load: () => import('./commands/review.js') },
  { words: ['curves'], load: () => import('./commands/curves.js') },
  { words: ['export'], load: () => import('./commands/export.js') },
  { words: ['replay'], load: () => import('./commands/replay.js') },
  { words: ['look'], load: () => import('./commands/look.js') },
  { words: ['convert'], load: () => import('./commands/convert.js') },
  { words: ['wiring'], load: () => import('./commands/wiring.js') },
  { words: ['probes'], load: () => import('./commands/probes.js') },
  { words: ['calibrate'], load: () => import('./commands/calibrate.js') },
  { words: ['service'], load: () => import('./commands/service.js') },
  { words: ['password'], load: () => import('./commands/password.js') },
  { words: ['backup'], load: () => import('./commands/backup.js') },
  { words: ['restore'], load: () => import('./commands/restore.js') },
  { words: ['completion', 'manual', COMPLETE], load: () => import('./commands/completion.js') },
  { words: ['store-check'], load: () => import('./commands/store-check.js') },
];

/** Words that may be typed first. */
export const typedWords: readonly string[] = commandFiles
  .flatMap(({ words }) => words)
  .filter((word) => word !== COMPLETE);

const filesOf = (...wanted: readonly (string | undefined)[]): readonly CommandFile[] =>
  commandFiles.filter(({ words }) => words.some((word) => wanted.includes(word)));

/**
 * The files that a command line needs: without a word the house runs; the manual, an unknown word or a call for help needs all. A
 * completion needs what is being typed: a key pressed in a shell should not load the house.
 */
export function filesFor(args: readonly string[]): readonly CommandFile[] {
  const [first] = args;
  if (first === undefined) return filesOf('run');
  if (first === COMPLETE)
    return filesOf(
      COMPLETE,
      args.slice(1).find((word) => word !== '--'),
    );
  if (first === 'manual') return commandFiles;
  const wanted = filesOf(first);
  return wanted.length > 0 ? wanted : commandFiles;
}
