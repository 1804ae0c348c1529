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
  { words: ['run'], load: () => import('./running/run.js') },
  { words: ['demo'], load: () => import('./running/demo.js') },
  { words: ['init'], load: () => import('./kit/init.js') },
  { words: ['check'], load: () => import('./kit/check.js') },
  { words: ['status'], load: () => import('./grower/status.js') },
  { words: ['round'], load: () => import('./grower/round.js') },
  { words: ['watered'], load: () => import('./grower/watered.js') },
  { words: ['tray'], load: () => import('./grower/tray.js') },
  { words: ['alarm'], load: () => import('./grower/alarm.js') },
  { words: ['call'], load: () => import('./grower/call.js') },
  { words: ['away', 'back'], load: () => import('./grower/away.js') },
  { words: ['note', 'undo'], load: () => import('./grower/note.js') },
  { words: ['listen'], load: () => import('./grower/listen.js') },
  { words: ['explain'], load: () => import('./records/explain.js') },
  { words: ['estimate'], load: () => import('./records/estimate/estimate.js') },
  { words: ['review'], load: () => import('./records/review.js') },
  { words: ['curves'], load: () => import('./records/curves.js') },
  { words: ['journal'], load: () => import('./records/journal.js') },
  { words: ['export'], load: () => import('./records/export.js') },
  { words: ['replay'], load: () => import('./records/replay.js') },
  { words: ['look'], load: () => import('./records/look/look.js') },
  { words: ['convert'], load: () => import('./records/convert/convert.js') },
  { words: ['wiring'], load: () => import('./kit/wiring.js') },
  { words: ['probes'], load: () => import('./kit/probes.js') },
  { words: ['calibrate'], load: () => import('./kit/calibrate.js') },
  { words: ['service'], load: () => import('./kit/service.js') },
  { words: ['password'], load: () => import('./kit/password.js') },
  { words: ['backup'], load: () => import('./records/upkeep/backup.js') },
  { words: ['restore'], load: () => import('./records/upkeep/restore.js') },
  { words: ['completion', 'manual', COMPLETE], load: () => import('./shell/completion.js') },
  { words: ['store-check'], load: () => import('./records/upkeep/store-check.js') },
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
