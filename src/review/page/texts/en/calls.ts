export const enCalls = {
  title: 'Calls on this phone',
  lead: 'The house can call this phone when trays cannot wait and tell it what each round will be, also while the page is closed. It needs the internet, here and at the house; the words pass through the maker of the browser, sealed for this phone alone.',
  begin: 'Call this phone',
  since: (when: string) => `This phone is called since ${when}.`,
  try: 'Try it now',
  tried:
    'On its way: it shows within some seconds. If it does not, the phone may be silenced, or the notifications of the browser turned off.',
  end: 'No longer call this phone',
  problem: (why: string) => `Not done: ${why}`,
  all: (names: string) => `Called now: ${names}.`,
  noName: 'a phone without a name',
  not: {
    'no-tls':
      'A browser lets itself be called only by a page that comes over https, and this one does not. Give the house a certificate (page.certFile; shared/phones.md says how to come by one), or take the calls over MQTT.',
    'home-screen':
      'On an iPhone or iPad only a page on the home screen can be called: choose “Share” in the browser, then “Add to Home Screen”, and open it from there.',
    'no-push':
      'This browser cannot be called. Try another one, or take the calls over MQTT, by SMS through a webhook, or with lamp and buzzer on the board.',
    denied:
      'The browser forbids this page to notify. Allow it in the settings of the browser for this page, and press again.',
    'no-service':
      'The browser did not reach its push service. Is the phone on the internet? Press again then; some browsers have none, and MQTT does without.',
    'no-contact': 'No contact with the house: whether it calls this phone shows when it is back.',
    'no-calls': 'This page only shows the store; calls are set up on the page of the house that watches.',
  },
};
