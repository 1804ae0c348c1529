import type { z } from 'zod';
import { testCallSchema, testReportSchema } from './base/test-call.js';
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
  heardReportSchema,
  lookReportSchema,
  probesReportSchema,
  replaySummarySchema,
  restoreReportSchema,
  statusReportSchema,
  storeReportSchema,
  trayListSchema,
  wiringReportSchema,
} from './cli-reports.js';
import { farmConfigSchema } from './config/farm.js';
import { exportRowSchemas } from './export-rows.js';
import { alarmTransitionSchema, callSchema } from './facts/alarm.js';
import { forecastSchema } from './facts/forecast.js';
import { readingSchema } from './facts/reading.js';
import { roundNoticeSchema } from './facts/round-notice.js';
import { statusSchema } from './facts/status.js';
import { trayEventSchema } from './facts/tray-life.js';
import { wateringSchema } from './facts/watering.js';
import { journalAnswerSchema } from './page/page-journal.js';
import { pagePatchSchema, pagePresentSchema } from './page/page-present.js';
import { answerSchema, commandSchema } from './wire/command.js';
import { roundMessageSchema } from './wire/messages.js';
import { pushMessageSchema } from './wire/push.js';

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
  'heard-report': heardReportSchema,
  'push-message': pushMessageSchema,
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
  ...Object.fromEntries(Object.entries(exportRowSchemas).map(([name, schema]) => [`export-${name}`, schema])),
};
