import type { SenmlRecord } from '../../shared/wire/senml.js';

/** Reads SenML as a stranger would, RFC 8428 clause by clause: what a pack says once its base fields are applied. */

/** Highest version this code understands; also the version of a pack that names none (RFC 8428 §4.4). */
const SENML_VERSION = 10;

/** Times below 2^28 s are relative to now, others seconds since 1970 (RFC 8428 §4.5.3). */
const RELATIVE_TIME_LIMIT_S = 2 ** 28;

/** A record that stands alone: full name, absolute time, no base fields (RFC 8428 §4.6). */
interface ResolvedRecord {
  readonly n: string;
  readonly t: number;
  readonly u?: string;
  readonly v?: number;
  readonly vs?: string;
  readonly vb?: boolean;
  readonly vd?: string;
  readonly s?: number;
  readonly ut?: number;
  readonly bver?: number;
}

type ResolveResult =
  | { readonly ok: true; readonly records: readonly ResolvedRecord[] }
  | { readonly ok: false; readonly recordIndex: number; readonly problem: string };

type Label = keyof SenmlRecord;
const LABEL_TYPES: Readonly<Record<Label, 'string' | 'number' | 'boolean'>> = {
  bn: 'string',
  bt: 'number',
  bu: 'string',
  bv: 'number',
  bs: 'number',
  bver: 'number',
  n: 'string',
  u: 'string',
  v: 'number',
  vs: 'string',
  vb: 'boolean',
  vd: 'string',
  s: 'number',
  t: 'number',
  ut: 'number',
};
const NAME = /^[A-Za-z0-9][A-Za-z0-9\-:./_]*$/;
const BASE64_URL = /^[A-Za-z0-9_-]*$/;

class BadRecord extends Error {}

function readRecord(raw: unknown): SenmlRecord {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw))
    throw new BadRecord('expected an object');
  const known: Record<string, unknown> = {};
  for (const [label, value] of Object.entries(raw)) {
    if (Object.hasOwn(LABEL_TYPES, label)) {
      const wanted = LABEL_TYPES[label as Label];
      const right = typeof value === wanted && (wanted !== 'number' || Number.isFinite(value));
      if (!right) throw new BadRecord(`"${label}": expected a ${wanted}`);
      known[label] = value;
    } else if (label.endsWith('_')) {
      throw new BadRecord(`"${label}" must be understood (§4.4) and is not`);
    }
  }
  return known as SenmlRecord;
}

interface Bases {
  bn: string;
  bt: number;
  bu: string | undefined;
  bv: number | undefined;
  bs: number | undefined;
  bver: number;
}

function applyBases(record: SenmlRecord, bases: Bases): void {
  if (record.bn !== undefined) bases.bn = record.bn;
  if (record.bt !== undefined) bases.bt = record.bt;
  if (record.bu !== undefined) bases.bu = record.bu;
  if (record.bv !== undefined) bases.bv = record.bv;
  if (record.bs !== undefined) bases.bs = record.bs;
  if (record.bver !== undefined) bases.bver = record.bver;
}

/** True when the record only sets base values, as the first record of the RFC's §5.1.7 does. */
function carriesNothing(record: SenmlRecord): boolean {
  const { n, u, v, vs, vb, vd, s, t, ut } = record;
  return [n, u, v, vs, vb, vd, s, t, ut].every((field) => field === undefined);
}

function resolveRecord(record: SenmlRecord, bases: Bases, nowS: number): ResolvedRecord {
  const n = bases.bn + (record.n ?? '');
  if (!NAME.test(n))
    throw new BadRecord(`name "${n}": expected letters, digits, "-:./_", a letter or digit first`);
  const { vs, vb, vd, ut } = record;
  const others = [vs, vb, vd].filter((field) => field !== undefined).length;
  const sum =
    record.s === undefined && bases.bs === undefined ? undefined : (bases.bs ?? 0) + (record.s ?? 0);
  const hasNumber = record.v !== undefined || (others === 0 && bases.bv !== undefined);
  if (!hasNumber && others === 0 && sum === undefined)
    throw new BadRecord('expected one of v, vs, vb, vd, or a sum s');
  if (others + (record.v === undefined ? 0 : 1) > 1)
    throw new BadRecord('expected one of v, vs, vb, vd, not several');
  if (vd !== undefined && !BASE64_URL.test(vd))
    throw new BadRecord('"vd": expected base64 with the URL-safe alphabet and no padding');
  const told = bases.bt + (record.t ?? 0);
  const u = record.u ?? bases.bu;
  return {
    n,
    ...(u === undefined ? {} : { u }),
    t: told < RELATIVE_TIME_LIMIT_S ? nowS + told : told,
    ...(hasNumber ? { v: (bases.bv ?? 0) + (record.v ?? 0) } : {}),
    ...(vs === undefined ? {} : { vs }),
    ...(vb === undefined ? {} : { vb }),
    ...(vd === undefined ? {} : { vd }),
    ...(sum === undefined ? {} : { s: sum }),
    ...(ut === undefined ? {} : { ut }),
    ...(bases.bver === SENML_VERSION ? {} : { bver: bases.bver }),
  };
}

/**
 * Resolved records of a pack, in order of time (RFC 8428 §4.6).
 * @param pack anything that came from JSON; what is not SenML comes back as a problem with the record's index
 * @param nowS seconds since 1970, for times relative to now
 */
export function resolveSenml(pack: unknown, nowS: number): ResolveResult {
  if (!Array.isArray(pack)) return { ok: false, recordIndex: 0, problem: 'expected an array of records' };
  const bases: Bases = { bn: '', bt: 0, bu: undefined, bv: undefined, bs: undefined, bver: SENML_VERSION };
  const records: ResolvedRecord[] = [];
  for (const [recordIndex, raw] of pack.entries()) {
    try {
      const record = readRecord(raw);
      const versionBefore = bases.bver;
      applyBases(record, bases);
      if (bases.bver > SENML_VERSION)
        throw new BadRecord(`version ${bases.bver} is newer than ${SENML_VERSION}`);
      if (records.length > 0 && bases.bver !== versionBefore)
        throw new BadRecord('all records of a pack have one version (§4.4)');
      if (!carriesNothing(record) || record.bv !== undefined || record.bs !== undefined)
        records.push(resolveRecord(record, bases, nowS));
    } catch (cause) {
      if (cause instanceof BadRecord) return { ok: false, recordIndex, problem: cause.message };
      throw cause;
    }
  }
  return { ok: true, records: records.sort((a, b) => a.t - b.t) };
}
