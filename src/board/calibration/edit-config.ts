import { copyFileSync, existsSync, readFileSync } from 'node:fs';
import { applyEdits, findNodeAtLocation, modify, parseTree } from 'jsonc-parser';
import { writeWhole } from '../../host/disk/write-whole.js';

/** A value to be set in one probe: path below the probe, and the value. */
export interface ProbeEdit {
  readonly path: readonly (string | number)[];
  readonly value: unknown;
}

/** What went wrong while a configuration was to be written; the old one stands. */
export class ConfigEditError extends Error {
  readonly code = 'config-edit-failed';
  readonly retryable = false;
}

/**
 * Text of the configuration with values set in one probe; comments, order and layout of the rest stay as they are.
 * @throws ConfigEditError when the probe is not there
 */
export function withProbeEdits(text: string, probeId: string, edits: readonly ProbeEdit[]): string {
  const root = parseTree(text, [], { allowTrailingComma: true });
  const probes = root === undefined ? undefined : findNodeAtLocation(root, ['probes']);
  const index =
    probes?.children?.findIndex((probe) => findNodeAtLocation(probe, ['id'])?.value === probeId) ?? -1;
  if (index < 0) throw new ConfigEditError(`there is no probe "${probeId}" in the configuration`);
  let edited = text;
  for (const { path, value } of edits) {
    // No formatting options: with them the library lays out the whole probe anew.
    const changes = modify(edited, ['probes', index, ...path], value, {});
    edited = applyEdits(edited, changes);
  }
  return edited;
}

/**
 * Sets values in one probe of a configuration file, whole or not at all, and keeps the old file beside it.
 *
 * @param check throws when the new text is no configuration; then nothing is written
 * @param stamp goes into the name of the kept file
 * @returns where the old file is kept
 */
export function editConfigFile(
  file: string,
  probeId: string,
  edits: readonly ProbeEdit[],
  check: (text: string) => void,
  stamp: string,
): string {
  const text = withProbeEdits(readFileSync(file, 'utf8'), probeId, edits);
  check(text);
  let kept = `${file}.before-${probeId}-${stamp}`;
  for (let again = 2; existsSync(kept); again++) kept = `${file}.before-${probeId}-${stamp}-${again}`;
  copyFileSync(file, kept);
  writeWhole(file, text);
  return kept;
}
