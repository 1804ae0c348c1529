import type { Command } from '../../../../shared/wire/command.js';
import type { Fact } from '../../ports/facts.js';

/** What people tell of an alarm itself. */
const ofAlarms: ReadonlySet<Command['do']> = new Set([
  'acknowledge',
  'shelve',
  'unshelve',
  'out-of-service',
  'in-service',
]);

/** A fact with the ref of the command that told it, where the journal shows it; that a pour ends an alarm is not told, it follows. */
export function toldBy(fact: Fact, command: Command, ref: string): Fact {
  switch (fact.kind) {
    case 'watering':
    case 'tray-event':
    case 'note':
      return { ...fact, ref };
    case 'alarm':
      return ofAlarms.has(command.do) ? { ...fact, ref } : fact;
    default:
      return fact;
  }
}
