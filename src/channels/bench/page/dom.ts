/** Elements made without any HTML: what people wrote is only ever text. */

type Value = string | number | boolean;
/** Attributes by name; `true` stands without a value, `false` is left out. */
export type Attributes = Readonly<Record<string, Value>>;
type Child = Node | string | null;

/** An element with its attributes and children; null children are left out. */
export function el<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  return filled(document.createElement(tag), attributes, children);
}

/** The same for a drawing. */
export function draw<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[K] {
  return filled(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);
}

function filled<E extends Element>(made: E, attributes: Attributes, children: readonly Child[]): E {
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== false) made.setAttribute(name, value === true ? '' : String(value));
  }
  made.append(...children.filter((one) => one !== null));
  return made;
}

/** A button that does something. */
export function button(label: string, act: () => void, attributes: Attributes = {}): HTMLButtonElement {
  const made = el('button', { type: 'button', ...attributes }, label);
  made.addEventListener('click', act);
  return made;
}

/** The element of the page with this id. Throws when the page lacks it: that is a bug of ours. */
export function byId(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no ${id}`);
  return found;
}

/** Words for screen readers alone. */
export function unseen(text: string): HTMLElement {
  return el('span', { class: 'unseen' }, text);
}
