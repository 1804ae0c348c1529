import type { z } from 'zod';
import { alarmTransitionSchema, callSchema } from './alarm.js';
import { checkReportSchema, statusReportSchema } from './cli-reports.js';
import { answerSchema, commandSchema } from './command.js';
import { farmConfigSchema } from './config/farm.js';
import { forecastSchema } from './forecast.js';
import { journalAnswerSchema } from './page-journal.js';
import { pagePatchSchema, pagePresentSchema } from './page-present.js';
import { readingSchema } from './reading.js';
import { roundNoticeSchema } from './round-notice.js';
import { statusSchema } from './status.js';
import { testCallSchema, testReportSchema } from './test-call.js';
import { trayEventSchema } from './tray-life.js';
import { wateringSchema } from './watering.js';

/** Every schema of the contract by the name of its file in shared/schemas/. */
export const contractSchemas: Readonly<Record<string, z.ZodType>> = {
  'farm-config': farmConfigSchema,
  reading: readingSchema,
  forecast: forecastSchema,
  'alarm-transition': alarmTransitionSchema,
  call: callSchema,
  watering: wateringSchema,
  'round-notice': roundNoticeSchema,
  'tray-event': trayEventSchema,
  command: commandSchema,
  answer: answerSchema,
  status: statusSchema,
  'test-call': testCallSchema,
  'test-report': testReportSchema,
  'page-present': pagePresentSchema,
  'page-patch': pagePatchSchema,
  'page-journal': journalAnswerSchema,
  'check-report': checkReportSchema,
  'status-report': statusReportSchema,
};
