import { z } from 'zod';

/** scrypt in the PHC string format (github.com/P-H-C/phc-string-format), as far as this program makes it. */
const SEALED = /^\$scrypt\$ln=1[0-7],r=8,p=\d{1,2}\$[A-Za-z0-9+/]{11,88}\$[A-Za-z0-9+/]{22,88}$/;

/** True for what `drybell password` makes of a word: it can be checked, and not read back. */
export function isSealed(text: string): boolean {
  return SEALED.test(text);
}

/** A word that is asked for, in clear or sealed. */
export function askedWordSchema(least: number) {
  return z
    .string()
    .min(least, `expected ${least} characters or more`)
    .max(200)
    .refine(
      (text) => !text.startsWith('$scrypt$') || isSealed(text),
      'expected a line that "drybell password" printed, whole',
    );
}
