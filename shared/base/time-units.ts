/** Milliseconds of a minute, an hour and a day of 24 hours: no day of a calendar, which daylight saving makes longer or shorter. */
export const MS_PER_MIN = 60_000;
export const MS_PER_HOUR = 3_600_000;
export const MS_PER_DAY = 86_400_000;
/** Seconds of an hour. */
export const S_PER_HOUR = 3600;
/** Hours of a day, and days of a week. */
export const HOURS_PER_DAY = 24;
export const DAYS_PER_WEEK = 7;
