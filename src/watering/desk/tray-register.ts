import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { TrayNow } from './watering-desk.js';

/** A tray in the register, ended ones included for as long as they can be undone. */
export interface RegisteredTray extends TrayNow {
  /** When somebody last said what cover is on. */
  readonly coverToldAtMs: number;
  readonly endedAtMs?: number | undefined;
}

/** All trays and where each probe stands, at one moment. */
export interface TrayRegister {
  readonly trays: ReadonlyMap<string, RegisteredTray>;
  readonly probeTray: ReadonlyMap<string, string>;
}

/** An event that can't follow on what is known. `code` is stable. */
export interface EventRefusal {
  readonly refused: true;
  readonly code:
    | 'unknown-tray'
    | 'tray-exists'
    | 'tray-ended'
    | 'unknown-to-tray'
    | 'smaller-block'
    | 'same-tray';
}

const refuse = (code: EventRefusal['code']): EventRefusal => ({ refused: true, code });

export const emptyRegister: TrayRegister = { trays: new Map(), probeTray: new Map() };

function withTray(register: TrayRegister, tray: RegisteredTray): TrayRegister {
  return { ...register, trays: new Map(register.trays).set(tray.id, tray) };
}

function newTray(
  event: Extract<TrayEvent, { event: 'new' }>,
  atMs: number,
  hasProbe: boolean,
): RegisteredTray {
  const cover = event.cover ?? 'none';
  return {
    id: event.tray,
    benchId: event.bench,
    blockSideMm: event.blockSideMm,
    blockCount: event.blockCount,
    crop: event.crop,
    medium: event.medium,
    containerCapacityM3PerM3: event.containerCapacityM3PerM3,
    refillPointM3PerM3: event.refillPointM3PerM3,
    trayAreaM2: event.trayAreaM2,
    channelDepthMm: event.channelDepthMm,
    cover,
    coveredAtMs: cover === 'none' ? undefined : atMs,
    sownAtMs: event.sownAt === undefined ? undefined : Date.parse(event.sownAt),
    germinatedAtMs: event.germinatedAt === undefined ? undefined : Date.parse(event.germinatedAt),
    startedAtMs: atMs,
    hasProbe,
    coverToldAtMs: atMs,
  };
}

function withoutProbes(register: TrayRegister, trayId: string): TrayRegister {
  const probeTray = new Map([...register.probeTray].filter(([, tray]) => tray !== trayId));
  return { ...register, probeTray };
}

function endTray(register: TrayRegister, tray: RegisteredTray, atMs: number): TrayRegister {
  return withoutProbes(withTray(register, { ...tray, endedAtMs: atMs, hasProbe: false }), tray.id);
}

function pottedOn(
  register: TrayRegister,
  source: RegisteredTray,
  toTrayId: string,
  atMs: number,
): TrayRegister | EventRefusal {
  const target = register.trays.get(toTrayId);
  if (toTrayId === source.id) return refuse('same-tray');
  if (target === undefined || target.endedAtMs !== undefined) return refuse('unknown-to-tray');
  if (target.blockSideMm <= source.blockSideMm) return refuse('smaller-block');
  const heir: RegisteredTray = {
    ...target,
    crop: target.crop ?? source.crop,
    sownAtMs: target.sownAtMs ?? source.sownAtMs,
    germinatedAtMs: target.germinatedAtMs ?? source.germinatedAtMs ?? atMs,
  };
  return endTray(withTray(register, heir), source, atMs);
}

function attach(register: TrayRegister, probeId: string, trayId: string): TrayRegister {
  const before = register.probeTray.get(probeId);
  const probeTray = new Map(register.probeTray).set(probeId, trayId);
  const trays = new Map(register.trays);
  const standsAt = new Set(probeTray.values());
  for (const id of [before, trayId]) {
    const tray = id === undefined ? undefined : trays.get(id);
    if (tray !== undefined) trays.set(tray.id, { ...tray, hasProbe: standsAt.has(tray.id) });
  }
  return { trays, probeTray };
}

/**
 * The register after one event, or why the event can't follow. Pure; the tray's present is its events played in order.
 * Waterings, looks and weights change nothing here.
 */
export function playTrayEvent(register: TrayRegister, event: TrayEvent): TrayRegister | EventRefusal {
  const atMs = Date.parse(event.at);
  const tray = register.trays.get(event.tray);
  if (event.event === 'new') {
    if (tray !== undefined && tray.endedAtMs === undefined) return refuse('tray-exists');
    return withTray(register, newTray(event, atMs, [...register.probeTray.values()].includes(event.tray)));
  }
  if (tray === undefined) return refuse('unknown-tray');
  if (tray.endedAtMs !== undefined) return refuse('tray-ended');
  switch (event.event) {
    case 'sown':
      return withTray(register, { ...tray, sownAtMs: atMs, germinatedAtMs: undefined });
    case 'germinated':
      return withTray(register, { ...tray, germinatedAtMs: atMs });
    case 'covered': {
      const cover = event.cover ?? 'loose-dome';
      const coveredAtMs = tray.cover === 'none' ? atMs : tray.coveredAtMs;
      return withTray(register, { ...tray, cover, coveredAtMs, coverToldAtMs: atMs });
    }
    case 'uncovered':
      return withTray(register, { ...tray, cover: 'none', coveredAtMs: undefined, coverToldAtMs: atMs });
    case 'moved':
      return withTray(register, { ...tray, benchId: event.bench });
    case 'potted-on':
      return pottedOn(register, tray, event.toTray, atMs);
    case 'attached':
      return attach(register, event.probe, tray.id);
    case 'ended':
      return endTray(register, tray, atMs);
    case 'watered':
    case 'weighed':
    case 'looked':
    case 'ready-for-water':
      return register;
  }
}

export function isRefusal(outcome: TrayRegister | EventRefusal): outcome is EventRefusal {
  return 'refused' in outcome;
}
