import type { enHouses } from '../en/houses.js';

export const esHouses: typeof enHouses = {
  open: (count) => `de ${count} invernaderos`,
  title: 'Todos los invernaderos',
  sum: (calling, unwatched) => {
    const parts = [
      calling === 0 ? undefined : calling === 1 ? 'un invernadero llama' : `${calling} invernaderos llaman`,
      unwatched === 0
        ? undefined
        : unwatched === 1
          ? 'uno está sin vigilar'
          : `${unwatched} están sin vigilar`,
    ].filter((part) => part !== undefined);
    const said = parts.length === 0 ? 'nada llama, todos están vigilados' : parts.join(', ');
    return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
  },
  states: {
    watching: 'vigilado',
    silent: 'callado',
    stopped: 'sin vigilar',
    'never-heard': 'nunca oído',
  },
  heard: (ago) => `última palabra ${ago}`,
  notHeard: 'aún sin palabra suya',
  stands: {
    silent:
      'Dice estar despierto y no ha dicho nada desde hace horas. Vaya a mirar: lo que aquí se ve es viejo.',
    stopped: 'Su vigilante se ha parado. Lo que aquí se ve es lo último que dijo.',
    'never-heard':
      'Nada se ha oído de él en este bróker. Mire si está en marcha, si su finca se llama así y si el bróker deja que esta casa lo oiga.',
  },
  unclear: 'Parte de lo que dice no se entiende aquí: usa otra versión.',
  brokerWhy: {
    ended: 'se cortó la conexión con el bróker',
    login: 'el bróker rechaza el acceso; revisa messaging.user y messaging.password',
    certificate: 'esta casa y el bróker no aceptan sus certificados; `drybell check` dice cuál',
    'not-reached': 'no se alcanza el bróker; mira si funciona, la red y messaging.url',
    'no-answer': 'el bróker no responde como debe; revisa messaging.url',
  },
  brokerAway: (why, since) =>
    `Ahora no se oye a ningún invernadero: ${why}. Lo que aquí se ve se oyó hasta ${since}.`,
  round: (when) => `Ronda ${when}`,
  nothingDue: 'nada que regar',
  toWater: (count, water) =>
    count === 1 ? `regar 1 bandeja, ${water}` : `regar ${count} bandejas, ${water}`,
  allWatered: (count) => (count === 1 ? 'su bandeja está regada' : `las ${count} están regadas`),
  away: (when) => `Nadie allí hasta ${when}`,
  next: (tray, when) => `${tray} se seca primero, hacia ${when}`,
  nextNow: (tray) => `${tray} está seca ya`,
  trays: (count) => (count === 1 ? '1 bandeja' : `${count} bandejas`),
  moreCalls: (count) => (count === 1 ? 'y una más' : `y ${count} más`),
  go: (farm) => `Abrir ${farm}`,
  here: 'Abrir este invernadero',
  noPage: 'Dónde está su página no figura en la configuración de esta casa (page.houses).',
};
