import type { enCalls } from '../en/calls.js';

export const esCalls: typeof enCalls = {
  title: 'Avisos en este teléfono',
  lead: 'La casa puede avisar a este teléfono cuando las bandejas no puedan esperar y decirle cómo será cada ronda, también con la página cerrada. Hace falta internet, aquí y en la casa; las palabras pasan por el fabricante del navegador, selladas solo para este teléfono.',
  begin: 'Avisar a este teléfono',
  since: (when) => `Se avisa a este teléfono desde: ${when}.`,
  try: 'Probarlo ahora',
  tried:
    'En camino: aparece en unos segundos. Si no aparece, el teléfono puede estar en silencio, o las notificaciones del navegador apagadas.',
  end: 'Dejar de avisar a este teléfono',
  problem: (why) => `No se ha hecho: ${why}`,
  all: (names) => `Se avisa ahora a: ${names}.`,
  noName: 'un teléfono sin nombre',
  not: {
    'no-tls':
      'Un navegador solo se deja avisar por una página que llega por https, y esta no. Dé un certificado a la casa (page.certFile; shared/phones.md dice cómo conseguirlo), o reciba los avisos por MQTT.',
    'home-screen':
      'En un iPhone o iPad solo se puede avisar a una página que esté en la pantalla de inicio: elija «Compartir» en el navegador, luego «Añadir a pantalla de inicio», y ábrala desde allí.',
    'no-push':
      'A este navegador no se le puede avisar. Pruebe con otro, o reciba los avisos por MQTT, por SMS mediante una pasarela, o con la luz y el zumbador de la placa.',
    denied:
      'El navegador prohíbe las notificaciones de esta página. Permítalas en sus ajustes para esta página y pulse otra vez.',
    'no-service':
      'El navegador no ha llegado a su servicio de avisos. ¿Tiene internet el teléfono? Pulse otra vez entonces; algunos navegadores no tienen ninguno, y MQTT no lo necesita.',
    'no-contact': 'Sin contacto con la casa: si avisa a este teléfono se verá cuando vuelva.',
    'no-calls':
      'Esta página solo muestra lo guardado; los avisos se ponen en la página de la casa que vigila.',
  },
};
