// The switches of an edition that breaks, penalties and incidents turn on.
import rulings from './pack/rulings.js';
import {part} from './core.js';

part.switches = [...part.switches, ...rulings.switches];
for (const [kind, clause] of Object.entries(rulings.accepted)) part.accepted[kind] = '- ' + clause;
