/** Script of the phone bench. Plain browser JavaScript; what people wrote is only ever set as text. */
export const pageScript = `
import { countSms } from '/count.js';

const note = document.getElementById('note');
const nowShown = document.getElementById('now');
const clock = document.getElementById('clock');
const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '*', '0', '?'];
const phones = [];
let people = [];
let ahead = 0;
let zone = 'UTC';

const personOf = (address) => people.find((one) => one.address === address);
const isBasic = (person) => Boolean(person && person.roles.includes('worker'));

function clockText(at, more = {}) {
  return new Date(at).toLocaleString('en-GB', {
    timeZone: zone, weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', ...more,
  });
}
const priceText = (text) => countSms(text).messages + ' SMS';
function countText(text) {
  const { plain, used, room, messages } = countSms(text);
  return used + '/' + room + ', ' + messages + ' SMS' + (plain ? '' : ', wide letters');
}

function tick() {
  const at = Date.now() + ahead;
  nowShown.textContent = clockText(at, { year: 'numeric' });
  nowShown.title = zone;
}

async function post(path, body) {
  note.textContent = '';
  try {
    const response = await fetch(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
    const answer = await response.json();
    if (response.ok) return answer;
    note.textContent = answer.error;
  } catch {
    note.textContent = 'The line does not answer.';
  }
  return null;
}

function button(label, act) {
  const made = document.createElement('button');
  made.type = 'button';
  made.textContent = label;
  made.addEventListener('click', act);
  return made;
}

/** Puts a text on every phone of its person, once; a text that waited is moved to its place. */
function take(address, text) {
  const person = personOf(address);
  if (!person) return;
  const known = person.texts.findIndex((one) => one.id === text.id);
  if (known < 0) person.texts.push(text);
  else if (!text.held && person.texts[known].held) {
    person.texts.splice(known, 1);
    person.texts.push(text);
  }
  for (const phone of phones) if (phone.who.value === address) {
    const row = [...phone.texts.children].find((one) => one.dataset.id === text.id);
    if (row && (text.held || !row.classList.contains('held'))) continue;
    row?.remove();
    addRow(phone, text);
  }
}

function addRow(phone, text) {
  const row = document.createElement('li');
  row.dataset.id = text.id;
  if (!text.out) row.classList.add('mine');
  if (text.held) row.classList.add('held');
  const head = document.createElement('small');
  const from = text.held ? 'waits for net' : (text.out ? '' : 'sent ') + clockText(text.at);
  head.textContent = from + ', ' + priceText(text.text);
  row.append(head, text.text === '' ? '(empty)' : text.text);
  phone.texts.append(row);
  phone.texts.scrollTop = phone.texts.scrollHeight;
}

function showOptions(phone, person) {
  phone.quick.textContent = '';
  if (!person || isBasic(person)) return;
  for (const { reply, label } of person.options) {
    phone.quick.append(button(reply + ' ' + label, () => sendText(phone, reply)));
  }
}

function showNet(phone, person) {
  phone.net.checked = !person || person.net;
  phone.box.classList.toggle('off', !phone.net.checked);
}

function load(phone) {
  const person = personOf(phone.who.value);
  phone.box.classList.toggle('basic', isBasic(person));
  phone.title.textContent = person ? 'Phone of ' + person.name : 'Phone';
  phone.texts.textContent = '';
  for (const text of person ? person.texts : []) addRow(phone, text);
  showNet(phone, person);
  showOptions(phone, person);
  phone.pad.textContent = '';
  if (!isBasic(person)) return;
  for (const key of keys) phone.pad.append(button(key, () => type(phone, phone.write.value + key)));
  phone.pad.append(
    button('B', () => type(phone, phone.write.value + 'B')),
    button('erase', () => type(phone, phone.write.value.slice(0, -1))),
    button('send', () => phone.form.requestSubmit()),
  );
}

function type(phone, value) {
  phone.write.value = value;
  phone.counter.textContent = countText(value);
}

async function sendText(phone, text) {
  const address = phone.who.value;
  const answer = await post('/send', { address, text });
  if (!answer) return;
  type(phone, '');
  take(address, { id: answer.id, out: false, at: answer.at, text, held: answer.handled === 'held' });
}

function makePhone(address) {
  const part = document.getElementById('phone').content.cloneNode(true);
  const find = (what) => part.querySelector(what);
  const phone = {
    box: find('.phone'), title: find('h2'), who: find('select'), net: find('.net input'), texts: find('.texts'),
    quick: find('.quick'), form: find('.write'), write: find('textarea'), counter: find('.count'), pad: find('.pad'),
  };
  for (const person of people) {
    const option = document.createElement('option');
    option.value = person.address;
    option.textContent = person.name + ' (' + person.roles.join(', ') + ')';
    phone.who.append(option);
  }
  phone.who.value = address;
  phone.who.addEventListener('change', async () => { await refresh(); load(phone); });
  phone.net.addEventListener('change', async () => {
    const on = phone.net.checked;
    if (!(await post('/net', { address: phone.who.value, on }))) phone.net.checked = !on;
  });
  phone.write.addEventListener('input', () => type(phone, phone.write.value));
  phone.write.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.shiftKey || event.isComposing) return;
    event.preventDefault();
    phone.form.requestSubmit();
  });
  phone.form.addEventListener('submit', (event) => { event.preventDefault(); sendText(phone, phone.write.value); });
  find('.again').addEventListener('click', async () => {
    const answer = await post('/send', { address: phone.who.value, again: true });
    if (!answer) return;
    note.textContent = answer.handled === 'duplicate' ? 'The same text came twice; the line had it already.'
      : answer.handled === 'held' ? 'The same text waits for the net once more.' : 'The text went out again with the same id.';
  });
  document.getElementById('phones').append(part);
  phones.push(phone);
  load(phone);
}

// What arrives while everything is read waits for it.
let loading = Promise.resolve();
function refresh() {
  loading = readState();
  return loading;
}
async function readState() {
  const state = await (await fetch('/state')).json();
  people = state.people;
  zone = state.zone;
  ahead = state.now - Date.now();
  tick();
}

async function move(body) {
  const controls = clock.querySelectorAll('button, input');
  for (const control of controls) control.disabled = true;
  const answer = await post('/clock', body);
  for (const control of controls) control.disabled = false;
  if (answer && !answer.moved) note.textContent = 'Nothing is due.';
}
clock.addEventListener('click', (event) => {
  const { ms, next } = event.target.dataset ?? {};
  if (ms) move({ ms: Number(ms) });
  if (next) move({ next: true });
});
clock.addEventListener('submit', (event) => {
  event.preventDefault();
  move({ ms: Number(document.getElementById('minutes').value) * 60000 });
});

const events = new EventSource('/events');
let opened = 0;
events.addEventListener('error', () => { note.textContent = 'The line does not answer. It is tried again by itself.'; });
events.addEventListener('open', async () => {
  note.textContent = '';
  opened += 1;
  await refresh();
  if (opened > 1) { for (const phone of phones) load(phone); return; }
  for (const role of ['worker', 'doctor', 'lab']) {
    const person = people.find((one) => one.roles.includes(role));
    if (person) makePhone(person.address);
  }
  setInterval(tick, 1000);
});
events.addEventListener('clock', (event) => { ahead = JSON.parse(event.data).now - Date.now(); tick(); });
events.addEventListener('net', async (event) => {
  await loading;
  const { address, on } = JSON.parse(event.data);
  const person = personOf(address);
  if (person) person.net = on;
  for (const phone of phones) if (phone.who.value === address) showNet(phone, person);
});
events.addEventListener('text', async (event) => {
  await loading;
  const { address, id, out, at, text, options } = JSON.parse(event.data);
  take(address, { id, out, at, text, held: false });
  const person = personOf(address);
  if (!person || (out && options.length === 0)) return;
  person.options = options;
  for (const phone of phones) if (phone.who.value === address) showOptions(phone, person);
});
`;
