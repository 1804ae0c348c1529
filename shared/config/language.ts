import { z } from 'zod';
import { LANGUAGES } from '../base/language.js';

export const languageSchema = z.enum(LANGUAGES).meta({ id: 'Language' });
