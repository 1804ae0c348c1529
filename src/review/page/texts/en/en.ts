import { enCalls } from './calls.js';
import { enHouses } from './houses.js';
import { enJournal } from './journal.js';
import { enReview } from './review.js';
import { enSeason } from './season.js';
import { enTray } from './tray.js';
import { enWhy } from './why.js';

/** Every word on the page in English. Another language is a value of the same shape: type `Texts`. */
export const en = {
  locale: 'en-GB',
  views: { now: 'Now', curves: 'Curves', water: 'Water', probes: 'Probes', journal: 'Journal' },
  viewsLabel: 'Views of the farm',
  skip: 'Skip the top of the page',

  hours: {
    minutesShort: 'min',
    hoursShort: 'h',
    daysShort: 'd',
    dryNow: 'dry',
    beyondFigure: '5+',
    spoken: (middle: string, low: string, high: string) =>
      low === high ? middle : `${middle}, from ${low} to ${high}`,
  },
  clock: {
    tomorrow: 'tomorrow',
    yesterday: 'yesterday',
    justNow: 'just now',
    ago: (span: string) => `${span} ago`,
    farmTime: 'Farm time',
    runsFast: (speed: number) => `Demonstration: the clock runs ${speed} times as fast`,
  },

  contact: {
    connecting: 'Looking for the house…',
    lost: (since: string, age: string) =>
      `No contact since ${since} (${age}). This is how the farm stood then. What you tell is kept on this phone and told when it is back.`,
    never: 'No contact with the house, and this phone has not seen the farm before.',
    past: (when: string, ago: string) =>
      `The past: the last that is known is of ${when} (${ago}). Everything here is as it stood then.`,
    readOnly: 'This page only shows the store; it has no watchman to tell anything to.',
    waiting: (count: number) =>
      count === 1 ? 'One thing waits to be told.' : `${count} things wait to be told.`,
  },

  door: {
    title: 'At the door',
    ask: 'Access word of the farm',
    enter: 'Come in',
    refusals: {
      'wrong-word': 'That is not the access word; it stands under page.accessWord.',
      'too-many-tries': 'Too many wrong words; wait a little and try again.',
      busy: 'Too many words are being looked at; try again in a moment.',
    },
  },

  tell: {
    noContact: 'Not told: no contact with the house.',
    noAnswer: 'No answer within ten seconds: it may or may not have been told.',
    waiting: 'Kept on this phone; it is told, with this time, when the house is back.',
    onlyHere: 'No room on this phone to keep it: leave the page open until the house is back.',
    takenBack: 'Taken back before it was told.',
    tooLate: 'Not told within a day. Tell what is true now.',
    interrupted: 'The page was closed before the answer came: it may or may not have been told.',
    sending: 'Telling…',
    undo: 'Undo',
    undone: 'Undone',
    again: 'Tell again',
    dismiss: 'Close',
    /** What the page's server refuses by itself, by its code; the house's own answers come in the farm's words. */
    refusals: {
      'malformed-command': 'Not understood: this page and the house are of two versions. Open it anew.',
      'word-needed': 'The page asks for the access word of the farm first; open it anew.',
      'other-site': 'Taken from this page only, not from another site.',
      'unknown-host': 'The page is not known by this address: use another, or add it under page.hostNames.',
      'too-large': 'Too much at once: a note has at most 2000 letters.',
      'no-photo': 'That is no photo that can be kept. Nothing was kept.',
      'photo-too-large': 'The photo is too large. Nothing was kept.',
      'photos-full':
        'The photos take all of their room (page.photosMb). The note was not kept: write it without the photo, or give photos more room.',
      failed: 'The house could not do it; its log says why.',
    },
    toldTitle: 'Told from this phone today',
    toldNone: 'Nothing yet.',
    states: {
      sending: 'on its way',
      done: 'told',
      refused: 'refused',
      waiting: 'waits to be told',
      'not-told': 'not told',
      undone: 'undone',
    },
  },

  now: {
    title: 'Now',
    round: (when: string) => `Round ${when}`,
    nextRound: (when: string) => `Next round ${when}`,
    roundIn: (span: string) => `in ${span}`,
    nothingDue: 'Nothing to water',
    waterTrays: (count: number) => (count === 1 ? 'Water 1 tray' : `Water ${count} trays`),
    stillToWater: (count: number) =>
      count === 1 ? '1 tray still to water' : `${count} trays still to water`,
    leftFrom: (when: string, ago: string) => `Left from the round at ${when}, ${ago}.`,
    pastTitle: (when: string) => `The farm on ${when}`,
    allDone: (count: number) =>
      count === 1 ? 'The tray of this round is watered' : `All ${count} trays of this round are watered`,
    allDoneAt: (count: number, when: string) =>
      count === 1 ? `Round ${when}: the tray is watered` : `Round ${when}: all ${count} trays are watered`,
    altogether: (water: string) => `${water} in all`,
    noticeAt: (when: string) => `What to water is settled ${when}`,
    noticeAsSent: (when: string) => `The notice as it was sent ${when}`,
    awayUntil: (when: string) => `Away until ${when}`,
    noTrays: 'No trays on the benches yet.',
    noTraysHow: 'Put the first one down with “New tray”.',
    callsTitle: 'Calls',
    dueTitle: 'Water now',
    dueTitleAt: (when: string) => `Water at ${when}`,
    waitsTitle: 'Can wait',
    benchTitle: (bench: string) => `Bench ${bench}`,
    humidity: (share: string) => `${share} rh`,
    fromAbove: 'from above',
    legend: 'Blocks are drawn in the colour of the soil: pale is dry, dark is full.',
    leftSpoken: (hours: string) => `Driest blocks last ${hours}`,
    leftSpokenDry: 'Driest blocks are dry',
    dryAbout: (when: string) => `driest blocks dry ${when}`,
    unknownLeft: 'no forecast yet',
    endedLeft: (when: string) => `no forecast since ${when}`,
    lastsUntil: (when: string) => `lasts past ${when}`,
    lastsNotSure: 'until the notice',
    fullShare: (share: string) => `${share} full`,
    belowRefill: 'below the refill point',
    dose: (water: string) => water,
    pours: (count: number, each: string, soakMin: number) =>
      `${count} pours of ${each}, ${Math.round(soakMin)} min to soak between`,
    onePour: 'one pour',
    notFull: 'will not be full after that',
    perhaps: 'Perhaps watered already: look first',
    watered: 'Watered',
    wateredAt: (when: string) => `watered ${when}`,
    open: (tray: string) => `More about ${tray}`,
    more: 'More',
    newTray: 'New tray',
    away: 'Away',
  },

  roundDone: {
    start: 'Round done',
    title: 'Which ones got water?',
    hint: 'Take out the trays you did not water.',
    all: (count: number) => (count === 1 ? 'The tray is watered' : `All ${count} are watered`),
    except: (left: number, count: number) => `${count - left} watered, ${left} not`,
    label: 'Round done',
    labelExcept: (trays: string) => `Round done, except ${trays}`,
    cancel: 'Not yet',
  },

  call: {
    seen: 'Seen',
    later: 'Later',
    doneWatered: (tray: string) => `Done: ${tray} watered`,
    doneUncovered: (tray: string) => `Done: cover off ${tray}`,
    allSeen: (count: number) => `All ${count} seen`,
    seenLabel: (what: string) => `Seen: ${what}`,
    laterLabel: (what: string, when: string) => `Later (${when}): ${what}`,
    laterOpen: (what: string) => `Later: ${what}`,
    laterTitle: 'Remind again',
    in: (span: string) => `in ${span}`,
    atRound: (when: string) => `at the round, ${when}`,
    seenBy: (by: string) => `seen by ${by}`,
    seenAlready: 'seen',
    laterUntil: (when: string) => `later, at ${when}`,
    over: 'over, not seen by anybody',
    outOfService: 'out of service',
    held: 'held back by design',
    wakeAgain: 'Remind now',
    backInService: 'Back in service',
    kinds: {
      refill: 'Needs water',
      dry: 'Dry',
      wet: 'Too wet',
      cover: 'Cover still on',
      probe: 'Probe',
      board: 'Board',
      monitor: 'Watchman',
      store: 'Store',
      broker: 'Broker',
      temperature: 'Temperature',
    },
    plain: (kind: string, of: string) => `${kind}: ${of}`,
  },

  testCall: {
    title: 'Test call',
    sent: (when: string) =>
      `Sent ${when}. Nothing is wrong. If it has reached you, press: then we know that calls arrive.`,
    came: (way: string) => (way === 'mqtt' ? 'It came to the MQTT app' : `It came by ${way}`),
  },

  own: {
    title: 'This phone',
    language: { title: 'Language of the page', farm: 'As the farm' },
    name: 'Your name, told with what you do',
    light: {
      title: 'Light to read in',
      choices: { phone: 'As the phone', day: 'Day', sun: 'In the sun', night: 'Night' },
    },
    keptTitle: 'Without the network',
    kept: 'This phone keeps the page: it opens without the network, shows the farm as it last was, and tells later what you told it. Put it on the home screen from the menu of the browser.',
    notKept:
      'An open page goes on without the network, but this phone cannot open it anew then: browsers keep only pages that come over https. Leave it open, or let a server with a certificate stand before it.',
    away: {
      title: 'Away',
      hint: 'Nobody can water until then: rounds before it do not count, and what would dry out is told earlier.',
      until: (when: string) => `Away until ${when}`,
      back: 'Back again',
    },
  },

  calls: enCalls,
  tray: enTray,
  review: enReview,
  journal: enJournal,
  houses: enHouses,
  why: enWhy,
  season: enSeason,
};
