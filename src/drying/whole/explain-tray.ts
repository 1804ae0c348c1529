import { EXPERTS } from '../experts/expert-falls.js';
import { expertWeights } from '../experts/expert-scores.js';
import { localCovariance } from '../filter/belief.js';
import { benchOf, type Farm } from '../filter/farm-state.js';
import { LINK, LOCAL, PROBE, PROBE_WIDTH, TRAY_WIDTH } from '../filter/layout.js';
import { isHandScale, type ProbeState } from '../filter/probe-state.js';
import { leadingBelief, meanLocal, type TrayState } from '../filter/tray-state.js';
import { chanceOfReading } from '../forecast/heard-experts.js';
import { scaleOf } from '../forecast/tray-scale.js';
import type { TrayBelief } from '../model/farm-model.js';

type Line = TrayBelief['lines'][number];

/** What the model believes of a tray, from what, how sure. Logs are shown as factors. */
export function explainTray(farm: Farm, tray: TrayState, atMs: number): TrayBelief {
  const { shared } = farm.memory;
  const leader = leadingBelief(tray);
  const sdOf = (component: number): number =>
    Math.sqrt(Math.max(0, localCovariance(leader, tray.links, shared, component, component)));
  const lines: Line[] = [
    {
      quantity: 'water content',
      value: meanLocal(tray, LOCAL.water),
      sd: sdOf(LOCAL.water),
      unit: 'm3/m3',
      from: waterFrom(tray),
      ...(tray.lastPour === undefined ? {} : { pouredAtMs: tray.lastPour.atMs }),
    },
    {
      quantity: 'container capacity',
      value: meanLocal(tray, LOCAL.capacity),
      sd: sdOf(LOCAL.capacity),
      unit: 'm3/m3',
      from:
        tray.spec.containerCapacityM3PerM3 === undefined
          ? 'prior and readings after waterings'
          : 'configuration',
    },
    {
      quantity: 'refill point',
      value: meanLocal(tray, LOCAL.refill),
      sd: sdOf(LOCAL.refill),
      unit: 'm3/m3',
      from:
        tray.spec.refillPointM3PerM3 === undefined
          ? 'prior by block size and the word "ready for water"'
          : 'configuration',
    },
    factor(
      'drying rate of this tray',
      leader.mean[LOCAL.rate],
      sdOf(LOCAL.rate),
      `${tray.finishedDryDowns} dry-downs`,
    ),
  ];
  if (tray.cover !== 'none')
    lines.push(
      factor('cover, on its prior', leader.mean[LOCAL.cover], sdOf(LOCAL.cover), `cover: ${tray.cover}`),
    );
  const sharedLine = (quantity: string, link: number, from: string): void => {
    const index = tray.links[link] ?? 0;
    lines.push(
      factor(quantity, shared.meanOf(index), Math.sqrt(Math.max(0, shared.varianceOf(index))), from),
    );
  };
  sharedLine('drying rate of the farm', LINK.farmRate, 'all trays');
  sharedLine('drying rate of blocks of this size', LINK.sizeRate, 'trays of this size');
  sharedLine(`dry air on bench ${tray.benchId}`, LINK.benchAir, 'trays of this bench');
  sharedLine(
    `sun on bench ${tray.benchId}`,
    LINK.benchSun,
    benchOf(farm, tray.benchId).climate.has.light
      ? 'light probe and trays of this bench'
      : 'hour of day and trays of this bench',
  );
  if (tray.beliefs.length > 1)
    lines.push({
      quantity: 'hypotheses about the last watering',
      value: tray.beliefs.length,
      unit: 'count',
      from: tray.beliefs
        .map((b) => `${Math.round(100 * b.weight)} % at ${(b.mean[LOCAL.water] ?? 0).toFixed(3)}`)
        .join(', '),
    });
  lines.push(...expertLines(tray, atMs));
  for (const probe of tray.probes) lines.push(...probeLines(tray, probe, leader.mean, sdOf));
  return { trayId: tray.id, atMs, lines };
}

/** What the experts on the probe's readings have earned. */
function expertLines(tray: TrayState, atMs: number): Line[] {
  const { experts } = tray;
  if (experts === undefined) return [];
  const weights = expertWeights(experts.scores);
  const shares = EXPERTS.map((name, i) => `${name} ${Math.round(100 * (weights[i] as number))} %`);
  return [
    {
      quantity: 'the reading is the tray',
      value: chanceOfReading(tray, atMs, scaleOf(tray)),
      unit: 'chance',
      from: `${experts.course.finished} dry-downs of ${experts.probeId}; ${shares.join(', ')}`,
    },
  ];
}

function factor(quantity: string, log: number | undefined, sdLog: number, from: string): Line {
  const value = Math.exp(log ?? 0);
  return { quantity, value, sd: value * sdLog, unit: 'factor', from };
}

function waterFrom(tray: TrayState): string {
  const probes = tray.probes.filter((probe) => probe.started);
  const pour = tray.lastPour;
  const poured = pour === undefined ? '' : `, last pour ${pour.source}`;
  return probes.length === 0 ? `model alone${poured}` : `${probes.map((p) => p.spec.id).join(', ')}${poured}`;
}

function probeLines(
  tray: TrayState,
  probe: ProbeState,
  mean: Float64Array,
  sdOf: (component: number) => number,
): Line[] {
  if (!probe.started) return [];
  const offset = TRAY_WIDTH + probe.slot * PROBE_WIDTH;
  const at = (component: number): number => mean[offset + component] ?? 0;
  const name = isHandScale(probe) ? 'weighed by hand' : probe.spec.id;
  if (probe.spec.kind === 'tray-weight')
    return [
      {
        quantity: `${name}: tray and dry blocks`,
        value: at(PROBE.bias),
        sd: sdOf(offset + PROBE.bias),
        unit: 'g',
        from: 'weight after waterings',
      },
    ];
  const calibrated = probe.spec.calibration !== undefined;
  const unit = calibrated ? 'm3/m3' : 'V';
  return [
    {
      quantity: calibrated ? `${name}: witness block above the mean block` : `${name}: reading when full`,
      value: at(PROBE.bias),
      sd: sdOf(offset + PROBE.bias),
      unit,
      from: `${tray.finishedDryDowns} dry-downs`,
    },
    {
      quantity: calibrated ? `${name}: gain error` : `${name}: volts per m3/m3`,
      value: calibrated ? at(PROBE.gain) : probe.drySign * Math.exp(at(PROBE.gain)),
      sd: calibrated ? sdOf(offset + PROBE.gain) : Math.exp(at(PROBE.gain)) * sdOf(offset + PROBE.gain),
      unit: calibrated ? 'share' : 'V per m3/m3',
      from: 'drying against the model',
    },
    {
      quantity: `${name}: change with temperature`,
      value: at(PROBE.temperature),
      sd: sdOf(offset + PROBE.temperature),
      unit: `${unit} per K`,
      from: 'its daily swing',
    },
  ];
}
