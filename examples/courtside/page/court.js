// The court as the referee sees it from the post: his left hand left, the far side line above, the net in the middle.
import {h} from './dom.js';
import {t} from './text.js';
import {nameOf} from './sitting.js';

/** Draws who stands where, who serves and who receives. */
export function court(sitting) {
  const {engine, setup} = sitting, view = engine.view(setup.left);
  const place = (hand, depth) => {
    const spot = view.spots.find(s => s.hand === hand && s.depth === depth);
    if (!spot) return h('div', {class: `place ${hand} ${depth}`});
    const role = view.server?.person === spot.person ? 'serves' : view.receiver?.person === spot.person ? 'receives' : '';
    const team = setup.sides['AB'.indexOf(spot.person[0])], mark = team.players[spot.person[1] - 1]?.mark;
    return h('div', {class: `place ${hand} ${depth} ${spot.person[0]} ${role}`, 'data-person': spot.person},
      role && h('span', {class: 'role'}, t(`courtside.${role}`)), h('b', {}, nameOf(setup, spot.person)), mark && h('span', {class: 'mark'}, mark));
  };
  const loose = view.spots.filter(s => s.depth !== 'near' && s.depth !== 'far');
  return h('div', {class: 'court', role: 'group', 'aria-label': t('courtside.court')},
    ['far', 'near'].map(depth => ['left', 'right'].map(hand => place(hand, depth))), h('i', {class: 'net', 'aria-hidden': 'true'}),
    loose.map(s => h('span', {}, nameOf(setup, s.person))));
}
