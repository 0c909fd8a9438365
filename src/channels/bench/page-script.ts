/** Script of the phone bench. Plain browser JavaScript; what people wrote is only ever set as text. */
export const pageScript = `
const wide = '{}[]~|^€\\\\\\f';
const gsm = new Set(('@£$¥èéùìòÇ\\nØø\\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !"#¤%&\\'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà' + wide).split(''));
const note = document.getElementById('note');
const nowShown = document.getElementById('now');
const phones = [];
let people = [];
let ahead = 0;

function count(text) {
  const plain = [...text].every((sign) => gsm.has(sign));
  const units = plain ? [...text].reduce((sum, sign) => sum + (wide.includes(sign) ? 2 : 1), 0) : text.length;
  const [one, part] = plain ? [160, 153] : [70, 67];
  const parts = units <= one ? 1 : Math.ceil(units / part);
  return units + '/' + (parts === 1 ? one : parts * part) + ', ' + parts + ' SMS' + (plain ? '' : ', wide letters');
}

function clockText(at) {
  return new Date(at).toLocaleString('en-GB', { weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });
}

function tick() { nowShown.textContent = clockText(Date.now() + ahead); }
setInterval(tick, 1000);

async function post(path, body) {
  note.textContent = '';
  const response = await fetch(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
  const answer = await response.json();
  if (!response.ok) note.textContent = answer.error;
  return response.ok ? answer : null;
}

function show(phone, text) {
  if (phone.seen.has(text.id + text.out)) return;
  phone.seen.add(text.id + text.out);
  const row = document.createElement('li');
  if (!text.out) row.className = 'mine';
  const when = document.createElement('small');
  when.textContent = (text.out ? '' : 'sent ') + clockText(text.at) + '  ' + count(text.text);
  row.append(when, text.text);
  phone.texts.append(row);
  phone.texts.scrollTop = phone.texts.scrollHeight;
}

function load(phone) {
  const person = people.find((one) => one.address === phone.who.value);
  phone.texts.textContent = '';
  phone.quick.textContent = '';
  phone.seen = new Set();
  phone.net.checked = person ? person.net : true;
  for (const text of person ? person.texts : []) show(phone, text);
  const worker = person && person.roles.includes('worker');
  phone.pad.textContent = '';
  if (worker) for (const key of ['1', '2', '3', '4', '5', '6', '7', '8', '9', '?', '0', 'B']) {
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = key;
    button.addEventListener('click', () => { phone.write.value += key; phone.write.dispatchEvent(new Event('input')); });
    phone.pad.append(button);
  }
}

async function sendText(phone, text) {
  const answer = await post('/send', { address: phone.who.value, text });
  if (!answer) return;
  phone.quick.textContent = '';
  phone.write.value = '';
  phone.write.dispatchEvent(new Event('input'));
  const text2 = { id: answer.id, out: false, at: answer.at, text };
  const person = people.find((one) => one.address === phone.who.value);
  person.texts.push(text2);
  for (const other of phones) if (other.who.value === phone.who.value) show(other, text2);
}

function makePhone(address) {
  const part = document.getElementById('phone').content.cloneNode(true);
  const box = part.querySelector('.phone');
  const phone = {
    who: box.querySelector('select'), net: box.querySelector('.net input'), texts: box.querySelector('.texts'),
    quick: box.querySelector('.quick'), write: box.querySelector('textarea'), pad: box.querySelector('.pad'), seen: new Set(),
  };
  for (const person of people) {
    const option = document.createElement('option');
    option.value = person.address;
    option.textContent = person.name + ' (' + person.roles.join(', ') + ')';
    phone.who.append(option);
  }
  phone.who.value = address;
  phone.who.addEventListener('change', async () => { await refresh(); load(phone); });
  phone.net.addEventListener('change', () => post('/net', { address: phone.who.value, on: phone.net.checked }));
  const counter = box.querySelector('.count');
  phone.write.addEventListener('input', () => { counter.textContent = phone.write.value ? count(phone.write.value) : ''; });
  phone.write.addEventListener('keydown', (event) => {
    if (event.key === 'Enter' && !event.shiftKey) { event.preventDefault(); box.querySelector('.write').requestSubmit(); }
  });
  box.querySelector('.write').addEventListener('submit', (event) => { event.preventDefault(); sendText(phone, phone.write.value); });
  box.querySelector('.again').addEventListener('click', async () => {
    const answer = await post('/send', { address: phone.who.value, again: true });
    if (answer) note.textContent = 'The same text went out again with the same id: ' + answer.handled + '.';
  });
  document.getElementById('phones').append(part);
  phones.push(phone);
  load(phone);
}

async function refresh() {
  const state = await (await fetch('/state')).json();
  people = state.people;
  ahead = state.now - Date.now();
  tick();
}

await refresh();
for (const role of ['worker', 'doctor', 'lab']) {
  const person = people.find((one) => one.roles.includes(role));
  if (person) makePhone(person.address);
}

const events = new EventSource('/events');
let lost = false;
events.addEventListener('error', () => { lost = true; note.textContent = 'The line does not answer. It is tried again by itself.'; });
events.addEventListener('open', async () => {
  if (!lost) return;
  lost = false;
  note.textContent = '';
  await refresh();
  for (const phone of phones) load(phone);
});
events.addEventListener('clock', (event) => { ahead = JSON.parse(event.data).now - Date.now(); tick(); });
events.addEventListener('text', (event) => {
  const arrived = JSON.parse(event.data);
  const text = { id: arrived.id, out: true, at: arrived.at, text: arrived.text };
  const person = people.find((one) => one.address === arrived.address);
  if (person) person.texts.push(text);
  for (const phone of phones) if (phone.who.value === arrived.address) {
    show(phone, text);
    phone.quick.textContent = '';
    if (person && !person.roles.includes('worker')) for (const option of arrived.options) {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = option.reply + ' ' + option.label;
      button.addEventListener('click', () => sendText(phone, option.reply));
      phone.quick.append(button);
    }
  }
});

const clock = document.getElementById('clock');
async function move(body) {
  for (const button of clock.querySelectorAll('button')) button.disabled = true;
  try { await post('/clock', body); } finally { for (const button of clock.querySelectorAll('button')) button.disabled = false; }
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
`;
