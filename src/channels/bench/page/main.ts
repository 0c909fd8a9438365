/** Begins: reads the state, builds the desk, and listens to the line. */
import { Desk } from './desk.ts';
import { byId } from './dom.ts';
import { Store } from './state.ts';
import { useLanguage, useZone } from './times.ts';

let desk: Desk | null = null;
const store: Store = new Store({
  changed: (state, before) => {
    useZone(state.zone);
    useLanguage(document.documentElement.lang);
    desk ??= new Desk(store);
    desk.show(state, before);
    document.body.classList.add('ready');
  },
  linked: (isThere) => {
    byId('no-line').hidden = isThere;
  },
});
store.open();
