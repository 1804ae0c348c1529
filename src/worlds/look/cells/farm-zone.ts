import { FixedOffsetZone, IANAZone } from 'luxon';

const MIN_PER_H = 60;
/** Fixed zones of the IANA database, hours east of UTC. */
const EASTMOST_H = 14;
const WESTMOST_H = -12;

/**
 * The zone in which a farm of the file lives. A file that writes its offset ("UTC+2") names no place: where this machine's clock stood so
 * at both ends of the file it is the machine's zone, summer time included; else the fixed zone of that offset, which the IANA database
 * writes with the sign turned round (its file "etcetera"), and UTC where it has none.
 */
export function farmZone(zone: string, machineZone: string, fromMs: number, toMs: number): string {
  const fixed = FixedOffsetZone.parseSpecifier(zone);
  if (fixed === null || fixed.offset(0) === 0) return zone;
  const offsetMin = fixed.offset(0);
  const machine = IANAZone.create(machineZone);
  if ([fromMs, toMs].every((atMs) => machine.offset(atMs) === offsetMin)) return machineZone;
  const eastH = offsetMin / MIN_PER_H;
  if (!Number.isInteger(eastH) || eastH > EASTMOST_H || eastH < WESTMOST_H) return 'UTC';
  return `Etc/GMT${eastH > 0 ? '-' : '+'}${Math.abs(eastH)}`;
}
