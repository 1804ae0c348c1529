import { setTimeout as sleep } from 'node:timers/promises';
import { type Harm, signal, span } from './harm.js';

const DAY_S = 86_400;
const SUSPENDED_S = 28_800;
/** Of Europe/Berlin, the house's time zone: the clock goes on at 02:00 standard time and back at 03:00 summer time. */
const SUMMER_TIME = { begins: '2027-03-28T01:00:00Z', ends: '2026-10-25T01:00:00Z' };
const MS_PER_S = 1_000;
const BEFORE_S = 2;

const steps = (name: string, seconds: number): Harm => ({
  name,
  needs: ['clock'],
  spares: 'all',
  do: async (_house, { random, setClock }) => {
    setClock(seconds);
    await sleep(span(random));
    setClock(0);
  },
});

/** The clock passes the change; each further round sets it back before the change and lets it pass once more. */
const passes = (name: string, change: string): Harm => ({
  name,
  needs: ['clock'],
  spares: 'all',
  do: async (_house, { random, setClock }) => {
    setClock((Date.parse(change) - Date.now()) / MS_PER_S - BEFORE_S);
    await sleep(BEFORE_S * MS_PER_S + span(random));
  },
});

/** What is done to the machine's clock. */
export const CLOCK_HARMS: readonly Harm[] = [
  steps('clock 30 s on and back', 30),
  steps('clock a day on and back', DAY_S),
  steps('clock a day back and on', -DAY_S),
  passes('summer time begins', SUMMER_TIME.begins),
  passes('summer time ends', SUMMER_TIME.ends),
  {
    name: 'suspended for 8 h',
    needs: ['clock'],
    spares: 'all',
    do: async (house, { random, setClock }) => {
      signal(house, 'SIGSTOP');
      house.sleptS += SUSPENDED_S;
      setClock(house.sleptS);
      await sleep(span(random));
      signal(house, 'SIGCONT');
    },
  },
];
