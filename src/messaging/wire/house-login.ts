import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { isSealed } from '../../../shared/config/asked-word.js';
import type { MessagingConfig } from '../../../shared/config/messaging.js';
import { fileTrouble } from '../../host/disk/file-trouble.js';
import { writeWhole } from '../../host/disk/write-whole.js';
import type { BrokerLogin } from './broker-access.js';
import { errorCode, MessagingError } from './messaging-error.js';

/** The user as which programs of this machine come to the own broker, where the configuration does not tell them the password. */
const HOUSE_USER = 'this-machine';
const KEY_BYTES = 24;
const OWNER_ONLY = 0o600;

const keyFile = (folder: string): string => join(folder, 'broker-key');

function readKey(folder: string): string | undefined {
  try {
    return readFileSync(keyFile(folder), 'utf8').trim();
  } catch (cause) {
    if (errorCode(cause) === 'ENOENT') return undefined;
    throw new MessagingError(
      'file-unreadable',
      `Cannot read ${keyFile(folder)}: ${fileTrouble(cause)}. Commands need it where the password is sealed: run them as the user of the monitor (sudo -u drybell …), or give --user and --password`,
      { cause },
    );
  }
}

function hasLogins({ url, user, logins }: MessagingConfig): boolean {
  return url === undefined && (user !== undefined || logins.length > 0);
}

/** The login of this machine's programs, made at the first start; undefined where the own broker asks nobody. */
export function makeHouseLogin(config: MessagingConfig, folder: string | undefined): BrokerLogin | undefined {
  if (folder === undefined || !hasLogins(config)) return undefined;
  let password = readKey(folder);
  if (password === undefined || password === '') {
    password = randomBytes(KEY_BYTES).toString('base64url');
    mkdirSync(folder, { recursive: true });
    writeWhole(keyFile(folder), `${password}\n`, OWNER_ONLY);
  }
  return { user: HOUSE_USER, password, may: 'command' };
}

/** As whom a program of this machine logs in at the farm's broker: as the configuration says, or by the key that lies in the store. */
export function loginFor(
  config: MessagingConfig,
  folder: string,
): { readonly user?: string | undefined; readonly password?: string | undefined } {
  const { user, password } = config;
  if (!hasLogins(config) || (password !== undefined && !isSealed(password))) return { user, password };
  const key = readKey(folder);
  return key === undefined ? { user } : { user: HOUSE_USER, password: key };
}
