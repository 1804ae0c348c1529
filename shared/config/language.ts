import { z } from 'zod';
import { LANGUAGES } from '../language.js';

export const languageSchema = z.enum(LANGUAGES).meta({ id: 'Language' });
