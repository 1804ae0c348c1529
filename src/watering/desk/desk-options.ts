import type { Language } from '../../../shared/base/language.js';
import type { BenchConfig } from '../../../shared/config/benches.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { NoticesConfig, UnitsConfig } from '../../../shared/config/notices.js';

/** What the desk needs of the farm's configuration; a whole `FarmConfig` fits. */
export interface DeskOptions {
  readonly farm: string;
  readonly timeZone: string;
  readonly units: UnitsConfig;
  /** What people are spoken to in; English when absent. */
  readonly language?: Language | undefined;
  readonly notices: NoticesConfig;
  readonly benches: readonly BenchConfig[];
  readonly probes: readonly ProbeConfig[];
  /** Calls go out over MQTT and by these; a test call tries each. */
  readonly messaging?: { readonly webhooks: readonly { readonly id: string }[] } | undefined;
}
