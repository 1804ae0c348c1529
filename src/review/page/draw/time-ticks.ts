import type uPlot from 'uplot';

const DAY_S = 86_400;

/** Words under the ticks of a time axis on the farm's clock: days where a tick is a day, else the time of day. */
export function timeTicks(timeZone: string, locale: string): uPlot.Axis.DynamicValues {
  const day = new Intl.DateTimeFormat(locale, { timeZone, day: 'numeric', month: 'short' });
  const time = new Intl.DateTimeFormat(locale, {
    timeZone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
  return (_plot, ticksS, _axis, _space, stepS) =>
    ticksS.map((atS) => {
      const clock = time.format(atS * 1000);
      return stepS >= DAY_S || clock === '00:00' ? day.format(atS * 1000) : clock;
    });
}
