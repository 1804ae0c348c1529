import type { LoginRight } from '../../../shared/config/messaging.js';
import { WordCheck } from '../../host/doors/sealed-word.js';

/** Who may come in, as it stands in the configuration; the password sealed or in clear. */
export interface BrokerLogin {
  readonly user: string;
  readonly password: string;
  readonly may: LoginRight;
}

/** Who may do what at the own broker. */
export interface AccessRules {
  readonly farm: string;
  /** None: anybody may connect and give commands, which is allowed on loopback only. */
  readonly logins?: readonly BrokerLogin[] | undefined;
  /** Topics that probes are read from. */
  readonly readingTopics?: readonly string[] | undefined;
}

export type LoginOutcome = LoginRight | 'wrong' | 'busy';

/** Looks at names and passwords. */
export class BrokerLogins {
  readonly #checks: readonly { readonly login: BrokerLogin; readonly check: WordCheck }[];

  constructor(logins: readonly BrokerLogin[] = []) {
    this.#checks = logins.map((login) => ({ login, check: new WordCheck(login.password) }));
  }

  async look(user: string | undefined, password: string | undefined): Promise<LoginOutcome> {
    const [first] = this.#checks;
    if (first === undefined) return 'command';
    // an unknown name takes as long as a wrong password
    const { login, check } = this.#checks.find((one) => one.login.user === user) ?? first;
    const fits = await check.fits(password ?? '');
    if (fits === undefined) return 'busy';
    return fits && login.user === user ? login.may : 'wrong';
  }
}

/** True for topics at which commands are given. */
export function isCommandTopic(farm: string, topic: string): boolean {
  const command = `drybell/${farm}/command`;
  return topic === command || topic.startsWith(`${command}/`);
}

/**
 * True when a client that is not the monitor may publish here. What the monitor says nobody else may say; commands are for who may
 * give them; readings come from who delivers them, once somebody has that right. `$SYS` belongs to the broker.
 */
export function mayPublish(rules: AccessRules, may: LoginRight, topic: string): boolean {
  if (topic.startsWith('$') || may === 'listen') return false;
  if (topic.startsWith(`drybell/${rules.farm}/`))
    return may === 'command' && isCommandTopic(rules.farm, topic);
  if (may === 'deliver') return true;
  const isForDeliverers = rules.logins?.some((login) => login.may === 'deliver') === true;
  return !(isForDeliverers && (rules.readingTopics ?? []).includes(topic));
}

/** True when a client may hear what is said here: whoever delivers readings has no part in the farm's talk. */
export function mayHear(rules: AccessRules, may: LoginRight, topic: string): boolean {
  return may !== 'deliver' || !topic.startsWith(`drybell/${rules.farm}/`);
}

/** Client id of a farm's monitor; another client under this id would push it out. */
export function monitorClientId(farm: string): string {
  return `drybell-${farm}`;
}
