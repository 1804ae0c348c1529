import type { CommandName } from '../../../../shared/wire/command.js';

/** What is typed for a field of a command, where that is no word of its own beside the command's name. */
const FLAGS: Readonly<Record<string, string>> = {
  blockSideMm: '--side',
  blockCount: '--count',
  bench: '--bench',
  crop: '--crop',
  medium: '--medium',
  cover: '--cover',
  channelDepthMm: '--channel-depth',
  trayAreaM2: '--tray-area',
  containerCapacityM3PerM3: '--capacity',
  refillPointM3PerM3: '--refill-point',
  sownAt: '--sown',
  germinatedAt: '--germinated',
  ml: 'the amount, mL',
  except: '--except',
  way: '--seen',
  by: '--by',
  ref: '--ref',
};
/** Fields that these commands take as a word. */
const WORDS: Readonly<Partial<Record<CommandName, string>>> = { move: 'bench', cover: 'cover' };

/** What a field of a command is called where it is typed: a flag, or the word's own name. */
export function typedName(command: CommandName, field: string): string {
  return WORDS[command] === field ? field : (FLAGS[field] ?? field);
}
