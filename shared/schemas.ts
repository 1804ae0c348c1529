import type { z } from 'zod';
import { alarmTransitionSchema, callSchema } from './alarm.js';
import {
  alarmsReportSchema,
  answersReportSchema,
  backupReportSchema,
  beliefReportSchema,
  boardsReportSchema,
  checkReportSchema,
  convertReportSchema,
  curvesReportSchema,
  estimateReportSchema,
  lookReportSchema,
  probesReportSchema,
  replaySummarySchema,
  restoreReportSchema,
  statusReportSchema,
  storeReportSchema,
  trayListSchema,
  wiringReportSchema,
} from './cli-reports.js';
import { answerSchema, commandSchema } from './command.js';
import { farmConfigSchema } from './config/farm.js';
import { forecastSchema } from './forecast.js';
import { roundMessageSchema } from './messages.js';
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
  'answers-report': answersReportSchema,
  'alarms-report': alarmsReportSchema,
  'round-message': roundMessageSchema,
  'tray-list': trayListSchema,
  'belief-report': beliefReportSchema,
  'estimate-report': estimateReportSchema,
  'curves-report': curvesReportSchema,
  'replay-summary': replaySummarySchema,
  'look-report': lookReportSchema,
  'convert-report': convertReportSchema,
  'store-report': storeReportSchema,
  'backup-report': backupReportSchema,
  'restore-report': restoreReportSchema,
  'probes-report': probesReportSchema,
  'boards-report': boardsReportSchema,
  'wiring-report': wiringReportSchema,
};
