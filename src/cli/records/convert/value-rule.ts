import { idSchema } from '../../../../shared/base/ids.js';

/** One column of a logger's file that becomes one probe's values. */
export interface ValueRule {
  readonly column: string;
  /** Only rows of this series; undefined: every row. */
  readonly series: string | undefined;
  /** Probe id, with `{series}` where the row's series goes. */
  readonly probe: string;
  readonly factor: number;
  readonly offset: number;
}

const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`;
const RULE = new RegExp(
  String.raw`^(?<column>[^=@]+)(?:@(?<series>[^=]+))?=(?<probe>[A-Za-z0-9_{}-]+)(?:\*(?<factor>${NUMBER}))?(?<offset>[+-](?:\d+\.?\d*|\.\d+))?$`,
);

/**
 * Reads `COLUMN[@SERIES]=PROBE[*FACTOR][+OFFSET]`; the value written is value x factor + offset.
 * Returns a sentence that says what is wrong when it is no rule.
 */
export function parseValueRule(text: string): ValueRule | string {
  const parts = RULE.exec(text)?.groups;
  const column = parts?.['column']?.trim();
  const probe = parts?.['probe'];
  if (parts === undefined || column === undefined || probe === undefined)
    return `--value "${text}": expected COLUMN[@SERIES]=PROBE[*FACTOR][+OFFSET], e.g. "moisture@plot-3=moist-t1*0.01"`;
  const example = probe.replaceAll('{series}', 'x');
  if (!idSchema.safeParse(example).success)
    return `--value "${text}": "${probe}" is no probe id; expected 1 to 40 letters, digits, "-" or "_"`;
  return {
    column,
    series: parts['series'],
    probe,
    factor: Number(parts['factor'] ?? 1),
    offset: Number(parts['offset'] ?? 0),
  };
}
