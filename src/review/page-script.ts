import { changesForm } from './changes-file.ts';
import { screenRule } from './text-row.ts';

/**
 * What the sheet can do where a browser runs scripts: count while somebody writes, save the changes as a file, open such a file to
 * go on. It is written as a browser reads it and asks nothing of any other place. Words are put in as text alone.
 */
export const pageScript = `(() => {
  const byId = (id) => document.getElementById(id);
  const facts = JSON.parse(byId('facts').textContent);
  const rows = [...document.querySelectorAll('[data-was]')];
  const field = (row) => row.querySelector('textarea');
  const note = (row) => row.querySelector('.note');
  const written = (row) => {
    const text = field(row).value;
    if (text === field(row).defaultValue) return JSON.parse(row.dataset.was);
    if (text.trim() === '') return null;
    if (row.dataset.kind === 'list') return text.split('\\n').map((one) => one.trim()).filter((one) => one !== '');
    const screens = text.split('\\n${screenRule}\\n');
    return screens.length > 1 ? screens : text;
  };
  const isChanged = (row) => field(row).value !== field(row).defaultValue || note(row).value.trim() !== '';
  const unitsOf = (text) => {
    let units = 0;
    for (const sign of text) {
      if (facts.plain.includes(sign)) units += 1;
      else if (facts.double.includes(sign)) units += 2;
      else return { units: text.length, room: 70 };
    }
    return { units, room: 160 };
  };
  const showScreens = (row) => {
    const live = row.querySelector('.live');
    if (!live) return;
    const value = (all, name) => facts.samples[name] ?? 'xxxxxx';
    const screens = field(row).value.split('\\n${screenRule}\\n').map((one) => one.replace(/\\{([a-z][A-Za-z0-9.-]*)\\}/gu, value));
    live.replaceChildren(...screens.map((words) => {
      const box = document.createElement('div');
      box.className = 'screen';
      const { units, room } = unitsOf(words);
      box.append(Object.assign(document.createElement('p'), { textContent: words }));
      box.append(Object.assign(document.createElement('small'), { textContent: units + ' of ' + room }));
      return box;
    }));
  };
  let isSaved = true;
  const changed = new Set();
  const say = (words) => {
    byId('count').textContent = words;
  };
  const look = (row) => {
    if (isChanged(row)) changed.add(row);
    else changed.delete(row);
    row.classList.toggle('changed', changed.has(row));
    say(changed.size + ' changed');
  };
  const said = (row) => ({
    key: row.dataset.key,
    was: JSON.parse(row.dataset.was),
    becomes: written(row),
    english: row.dataset.english === undefined ? null : JSON.parse(row.dataset.english),
    note: note(row).value.trim(),
    by: byId('by').value.trim(),
  });
  byId('save').onclick = () => {
    if (changed.size === 0) return say('Nothing is changed yet');
    if (byId('by').value.trim() === '') return say('Write your name first');
    const { version, locale, source } = facts;
    const changes = rows.filter((row) => changed.has(row)).map(said);
    const file = { form: ${changesForm}, version, locale, source, changes };
    const link = document.createElement('a');
    link.href = 'data:application/json;charset=utf-8,' + encodeURIComponent(JSON.stringify(file, null, 2) + '\\n');
    link.download = 'changes-' + locale + '.json';
    link.click();
    isSaved = true;
  };
  const goOnWith = (file) => {
    if (file.locale !== facts.locale) return say('That file is of another language: ' + file.locale);
    let [left, older] = [0, 0];
    for (const { key, becomes, note: why, by, was } of file.changes) {
      const row = rows.find((one) => one.dataset.key === key);
      if (!row) {
        left += 1;
        continue;
      }
      if (JSON.stringify(was) !== row.dataset.was) older += 1;
      if (JSON.stringify(becomes) !== JSON.stringify(was)) {
        const line = row.dataset.kind === 'list' ? '\\n' : '\\n${screenRule}\\n';
        field(row).value = Array.isArray(becomes) ? becomes.join(line) : (becomes ?? '');
      }
      note(row).value = why ?? '';
      byId('by').value = by ?? '';
      row.querySelector('details').open = true;
      look(row);
    }
    const warned = [
      ...(left > 0 ? [left + ' of the file are not in this sheet'] : []),
      ...(older > 0 ? [older + ' were said of other words than stand here: read them again'] : []),
    ];
    if (warned.length > 0) say([changed.size + ' changed', ...warned].join(', '));
  };
  byId('open').onchange = ({ target }) => {
    const [chosen] = target.files;
    if (!chosen) return;
    chosen.text().then((text) => goOnWith(JSON.parse(text))).catch(() => say('That is no file of changes')).finally(() => {
      // So that the same file can be chosen again.
      target.value = '';
    });
  };
  document.addEventListener('input', ({ target }) => {
    const row = target.closest('[data-was]');
    if (!row) return;
    isSaved = false;
    showScreens(row);
    look(row);
  });
  window.addEventListener('beforeunload', (event) => {
    if (!isSaved) event.preventDefault();
  });
  // A browser that opens the page again may have kept what was written.
  for (const row of rows) if (isChanged(row)) look(row);
  byId('bar').hidden = false;
})();
`;
