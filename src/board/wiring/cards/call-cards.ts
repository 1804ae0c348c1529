import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import type { Card } from './card.js';
import { ohmText, resistor } from './component.js';
import { lampResistorOhm } from './part-facts.js';

/** Lamp, buzzer and button of whoever stands in the house. */
export function callCards(board: BoardConfig): Card[] {
  const { lampPin, buzzerPin, buttonPin } = board.callPost ?? {};
  const cable = { longestM: 10, cableM: 1 };
  const ground = { name: '−', net: 'GND', ...cable };
  const cards: Card[] = [];
  if (lampPin !== undefined)
    cards.push({
      id: 'call-lamp',
      kind: 'call',
      title: 'call lamp',
      subtitle: `red LED, ${ohmText(lampResistorOhm)} in series with +`,
      terminals: [{ name: '+', net: `D${lampPin}`, behindNode: 'call-lamp/+', ...cable }, ground],
      components: [resistor(lampResistorOhm, `D${lampPin}`, 'call-lamp/+')],
    });
  if (buzzerPin !== undefined)
    cards.push({
      id: 'buzzer',
      kind: 'call',
      title: 'buzzer',
      subtitle: 'active piezo buzzer, 20 mA at most',
      terminals: [{ name: '+', net: `D${buzzerPin}`, ...cable }, ground],
      components: [],
    });
  if (buttonPin !== undefined)
    cards.push({
      id: 'acknowledge-button',
      kind: 'call',
      title: 'acknowledge button',
      subtitle: 'push button, closes when pressed',
      terminals: [
        { name: '1', net: `D${buttonPin}`, behindNode: 'acknowledge-button/1', ...cable },
        { name: '2', net: 'GND', ...cable },
      ],
      components: [resistor(1000, `D${buttonPin}`, 'acknowledge-button/1')],
      note: '1 kΩ in series with 1',
    });
  return cards;
}
