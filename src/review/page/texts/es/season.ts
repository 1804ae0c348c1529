import type { en } from '../en/en.js';

/** El resumen de una temporada. */
export const esSeason: (typeof en)['season'] = {
  open: 'Una temporada en resumen',
  title: 'Una temporada en resumen',
  none: 'Aún no se guarda ningún secado: una temporada empieza con el primero.',
  kindsTitle: 'Qué resumir',
  kinds: { season: 'Temporadas', week: 'Semanas', cycle: 'Cultivos' },
  which: 'Cuál',
  before: 'La anterior',
  after: 'La siguiente',
  cycleOf: (crop, from, to) => `${crop}, ${from} – ${to ?? 'ahora'}`,
  beside: 'A su lado',
  print: 'Imprimir',
  farmTitle: 'La finca',
  columns: {
    season: 'Tiempo',
    trays: 'Bandejas',
    ended: 'Dejaron las mesas',
    rounds: 'Rondas con agua',
    waterings: 'Riegos',
    water: 'Agua',
    calls: 'Llamadas',
    tooDry: 'Veces demasiado secas',
    tooWet: 'Veces demasiado húmedas',
    cameTrue: 'Pronósticos dentro de su margen',
  },
  trueOf: (share, decided) => `${share} de ${decided}`,
  lost: 'La casa sabe de bandejas que se secaron demasiado, no de plántulas perdidas: lo perdido es lo que cuenta quien cultiva.',
  unknown: (count) =>
    count === 1
      ? 'De un riego no se sabe la cantidad; no está en las sumas.'
      : `De ${count} riegos no se sabe la cantidad; no están en las sumas.`,
  rowsTitle: 'Tamaños y cultivos',
  rowsLead:
    'En medio: cuándo la mitad de los secados estaba en el punto de riego. La mayoría se riega antes; cuentan como «más de». Aire: la media de las horas de secado.',
  rowColumns: {
    what: 'Bloque, cultivo, tiempo',
    trays: 'Bandejas',
    dryDowns: 'Secados',
    middle: 'En medio, h',
    temperature: 'Aire',
    vpd: 'Déficit de presión de vapor, kPa',
    sun: 'Sol, W/m²',
    waterings: 'Riegos',
    water: 'Agua',
    tooDry: 'Demasiado seca',
    tooWet: 'Demasiado húmeda',
  },
  noCrop: 'cultivo no dicho',
  picturesTitle: 'Cómo se secó cada tamaño',
  pictureLabel: (size, seasons) =>
    `Agua en bloques de ${size} según las horas desde el riego, el secado de en medio de ${seasons}. La tabla de abajo tiene los números.`,
  pictureLead: (size) => `bloques de ${size}`,
  steps:
    'Cada hora, el de en medio de los que aún se secan; uno que se regó sigue en la cuenta como «como mucho así de húmedo». Donde muchos se riegan en una misma ronda, la línea baja en un escalón: los demás eran los más secos.',
  tooFew: 'Demasiado pocos secados para dibujar: hacen falta tres.',
  behind: (season) => `${season}: secados que lo apoyan`,
  waterOf: (season) => `${season}: agua, %`,
};
