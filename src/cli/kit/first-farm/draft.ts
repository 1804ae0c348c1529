import { readFileSync, rmSync } from 'node:fs';
import { z } from 'zod';
import { writeWhole } from '../../../host/disk/write-whole.js';

/** What was typed so far, by question. */
export type Answers = Readonly<Record<string, string>>;

const answersSchema = z.record(z.string(), z.string());

/** Answers of an init that was left, beside the configuration that it is to write. */
export const draftFile = (configFile: string): string => `${configFile}.begun`;

/** The answers that were kept; none where nothing was left, or it can't be read. */
export function loadDraft(configFile: string): Answers {
  try {
    return answersSchema.parse(JSON.parse(readFileSync(draftFile(configFile), 'utf8')));
  } catch (cause) {
    // a draft only saves typing: without one everything is asked
    if (cause instanceof Error) return {};
    throw cause;
  }
}

export function saveDraft(configFile: string, answers: Answers): void {
  writeWhole(draftFile(configFile), `${JSON.stringify(answers, undefined, 2)}\n`);
}

export function dropDraft(configFile: string): void {
  rmSync(draftFile(configFile), { force: true });
}
