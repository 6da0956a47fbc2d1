// The small part: games, matches, time-outs, the first choice, the log, what may come, the view, and the record's text.
export {match, load, Match} from './log.js';
export {compile, parseEvent, Rules} from './core.js';
