import { describeIf } from '../helpers/needs.js';
import { publisherContract } from './publisher-contract.js';
import { aedesStage, mosquittoStage } from './stages.js';

publisherContract('aedes', aedesStage);

describeIf('mosquitto', 'with a real mosquitto', () => {
  publisherContract('mosquitto', mosquittoStage);
});
