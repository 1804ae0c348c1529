import type { Hookup, HookupOf } from '../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';

/** A part that hangs on a board, as against one that the kernel reads or that is delivered. */
export type BoardHookup = Exclude<Hookup, HookupOf<'ds18b20' | 'delivered'>>;

export type BoardProbe = ProbeConfig & { readonly hookup: BoardHookup };
export type W1Probe = ProbeConfig & { readonly hookup: HookupOf<'ds18b20'> };

export function isBoardProbe(probe: ProbeConfig): probe is BoardProbe {
  return probe.hookup !== undefined && 'board' in probe.hookup;
}

export function isW1Probe(probe: ProbeConfig): probe is W1Probe {
  return probe.hookup?.part === 'ds18b20';
}

/** Probes with the same key are served by one reading: an SHT31 gives temperature and humidity in one go. */
export function partKey(hookup: BoardHookup): string {
  if ('input' in hookup) return hookup.input;
  return 'address' in hookup ? `${hookup.part} ${hookup.address}` : hookup.part;
}
