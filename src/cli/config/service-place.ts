import { existsSync, readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { FarmConfig } from '../../../shared/config/farm.js';

/** The systemd unit that `drybell service install` writes. */
export const UNIT_FILE = '/etc/systemd/system/drybell.service';

/** What the service may write; its configuration's folder it may not. */
export const STATE_FOLDER = '/var/lib/drybell';

/** A word of a unit's command line: quoted, with systemd's own signs doubled. */
export function unitWord(word: string): string {
  const safe = word.replace(/%/g, '%%').replace(/\$/g, '$$$$').replace(/["\\]/g, '\\$&');
  return /[\s"'\\;]/.test(word) ? `"${safe}"` : safe;
}

function isServices(file: string, unitFile: string): boolean {
  if (!existsSync(unitFile)) return false;
  const line = `run --config ${unitWord(file)}`;
  return readFileSync(unitFile, 'utf8')
    .split('\n')
    .some((text) => text.endsWith(line));
}

/**
 * The configuration with the store in its place, absolute: beside the configuration, whatever folder a command was typed in; for the
 * service's configuration in the folder that the service may write.
 */
export function withStorePlaced(farm: FarmConfig, configFile: string, unitFile = UNIT_FILE): FarmConfig {
  const file = resolve(configFile);
  const base = isServices(file, unitFile) ? STATE_FOLDER : dirname(file);
  return { ...farm, store: { ...farm.store, folder: resolve(base, farm.store.folder) } };
}
