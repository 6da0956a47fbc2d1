// Everything but words: the small part with breaks, penalties, incidents, lines, corrections, settings and reasons.
export * from './index.js';
import './sports.js';
import './readings.js';
import './breaks.js';
import './penalties.js';
import './incidents.js';
import './corrections.js';
import './settings.js';
import './why.js';
import './results.js';
export {parseLine} from './lines.js';
