/** Words of the page that shows all houses of a farm. */
export const enHouses = {
  open: (count: number) => `of ${count} houses`,
  title: 'All houses',
  sum: (calling: number, unwatched: number) => {
    const parts = [
      calling === 0 ? undefined : calling === 1 ? 'one house calls' : `${calling} houses call`,
      unwatched === 0 ? undefined : unwatched === 1 ? 'one is not watched' : `${unwatched} are not watched`,
    ].filter((part) => part !== undefined);
    const said = parts.length === 0 ? 'nothing calls, all are watched' : parts.join(', ');
    return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
  },
  states: {
    watching: 'watched',
    silent: 'silent',
    stopped: 'not watched',
    'never-heard': 'never heard',
  },
  heard: (ago: string) => `last word ${ago}`,
  notHeard: 'no word of its own yet',
  stands: {
    silent: 'It says to be awake, and has said nothing for hours. Go and look: what stands here is old.',
    stopped: 'Its watchman has stopped. What stands here is what it said last.',
    'never-heard':
      'Nothing has been heard of it at this broker. Look whether it runs, whether its farm has this name, and whether the broker lets this house hear it.',
  },
  unclear: 'Some of what it says is not understood here: it runs another version.',
  brokerWhy: {
    ended: 'the connection to the broker ended',
    login: 'the broker refuses the login; check messaging.user and messaging.password',
    certificate:
      'this house and the broker do not take each other’s certificates; `drybell check` says which',
    'not-reached': 'the broker is not reached; look whether it runs, at the network, and at messaging.url',
    'no-answer': 'the broker does not answer as a broker should; check messaging.url',
  },
  brokerAway: (why: string, since: string) =>
    `No house is heard now: ${why}. What stands here was heard by ${since}.`,
  round: (when: string) => `Round ${when}`,
  nothingDue: 'nothing to water',
  toWater: (count: number, water: string) =>
    count === 1 ? `water 1 tray, ${water}` : `water ${count} trays, ${water}`,
  allWatered: (count: number) => (count === 1 ? 'its tray is watered' : `all ${count} are watered`),
  away: (when: string) => `Nobody there until ${when}`,
  next: (tray: string, when: string) => `${tray} dries first, about ${when}`,
  nextNow: (tray: string) => `${tray} is dry now`,
  trays: (count: number) => (count === 1 ? '1 tray' : `${count} trays`),
  moreCalls: (count: number) => (count === 1 ? 'and one more' : `and ${count} more`),
  go: (farm: string) => `Open ${farm}`,
  here: 'Open this house',
  noPage: 'Where its page is does not stand in this house’s configuration (page.houses).',
};
