import { createHash, timingSafeEqual } from 'node:crypto';

/** Who may do what at the own broker. */
export interface AccessRules {
  readonly farm: string;
  /** Absent: anybody may connect, which is allowed on loopback only. */
  readonly login?: { readonly user: string; readonly password: string } | undefined;
}

function sameText(a: string, b: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}

/** True when this name and password may connect; compared in constant time. */
export function mayConnect(
  rules: AccessRules,
  user: string | undefined,
  password: string | undefined,
): boolean {
  if (rules.login === undefined) return true;
  const nameFits = sameText(rules.login.user, user ?? '');
  const passwordFits = sameText(rules.login.password, password ?? '');
  return nameFits && passwordFits;
}

/**
 * True when a client that is not the monitor may publish here: commands, and whatever lies outside the farm's topics.
 * What the monitor says, nobody else may say; `$SYS` belongs to the broker.
 */
export function mayPublish(rules: AccessRules, topic: string): boolean {
  if (topic.startsWith('$')) return false;
  const root = `drybell/${rules.farm}/`;
  if (!topic.startsWith(root)) return true;
  return topic === `${root}command` || topic.startsWith(`${root}command/`);
}

/** Client id of a farm's monitor; another client under this id would push it out. */
export function monitorClientId(farm: string): string {
  return `drybell-${farm}`;
}
