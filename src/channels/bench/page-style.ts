/** Style of the phone bench: works from 360 px upward, keyboard focus always visible, text contrast 4.5 and more. */
export const pageStyle = `
:root { --ink: #1c2a2b; --paper: #f3efe6; --case: #2f4a4b; --screen: #dfe6d2; --mine: #fff8dd; --line: #8b8470; --act: #7a3b12; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.4 system-ui, sans-serif; }
header { padding: 0.75rem 1rem; border-bottom: 2px solid var(--line); background: var(--paper); }
h1 { margin: 0; font-size: 1.25rem; }
.about { margin: 0.25rem 0 0.5rem; max-width: 60rem; }
details { margin-bottom: 0.5rem; max-width: 60rem; }
summary { cursor: pointer; text-decoration: underline; }
details ul { margin: 0.25rem 0; padding-left: 1.25rem; }
kbd { font: 700 0.9em ui-monospace, monospace; background: #fff; border: 1px solid var(--line); border-radius: 0.2rem; padding: 0 0.25rem; }
#clock, .moves { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: center; }
#now { font-variant-numeric: tabular-nums; font-weight: 700; min-width: 13rem; }
#minutes { width: 5.5rem; }
#note { min-height: 1.4em; margin: 0.25rem 0 0; color: var(--act); font-weight: 600; }
main { display: flex; flex-wrap: wrap; gap: 1rem; padding: 1rem; max-width: 84rem; margin: 0 auto; align-items: flex-start; }
.phone { flex: 1 1 20rem; background: var(--case); color: #fff; padding: 0.75rem; border-radius: 0.75rem; display: flex; flex-direction: column; gap: 0.5rem; min-width: 0; }
.phone.basic { flex: 0 1 19rem; border-radius: 0.75rem 0.75rem 2.5rem 2.5rem; padding-bottom: 1.25rem; background: #3b3a36; }
.top { display: flex; justify-content: space-between; gap: 0.5rem; flex-wrap: wrap; align-items: center; }
.who { display: flex; gap: 0.4rem; align-items: center; flex: 1 1 12rem; min-width: 0; }
.who span { white-space: nowrap; }
.net { white-space: nowrap; }
.net input { width: 1.1rem; height: 1.1rem; vertical-align: -0.15rem; }
.phone.off { outline: 3px dashed var(--act); outline-offset: 2px; }
select, input, textarea, button { font: inherit; color: var(--ink); background: #fff; border: 1px solid var(--line); border-radius: 0.3rem; padding: 0.3rem 0.5rem; }
select { flex: 1 1 auto; width: 100%; min-width: 0; }
.texts { list-style: none; margin: 0; padding: 0.5rem; background: #fff; color: var(--ink); border-radius: 0.3rem; height: 26rem; overflow-y: auto; font: 15px/1.35 ui-monospace, monospace; }
.basic .texts { background: var(--screen); height: 13rem; font-size: 14px; padding: 0.35rem; }
.texts li { margin: 0 0 0.6rem; padding: 0.3rem 0.4rem; white-space: pre-wrap; overflow-wrap: anywhere; border-left: 4px solid var(--case); }
.texts li.mine { background: var(--mine); border-left-color: var(--act); }
.texts li.held { border-left-style: dashed; font-style: italic; }
.texts small { display: block; font-size: 12px; color: #3c4a3c; font-style: normal; }
textarea { display: block; width: 100%; resize: vertical; font-family: ui-monospace, monospace; }
.row { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: center; justify-content: flex-end; margin-top: 0.5rem; }
.count { margin-right: auto; font-size: 0.85rem; font-variant-numeric: tabular-nums; }
.quick { display: flex; flex-wrap: wrap; gap: 0.3rem; }
.quick:empty, .pad:empty { display: none; }
.pad { display: grid; grid-template-columns: repeat(3, 1fr); gap: 0.4rem; }
.pad button { min-height: 2.75rem; font-size: 1.1rem; font-weight: 700; border-radius: 0.8rem; }
button { cursor: pointer; min-height: 2.25rem; }
button[type='submit'] { background: var(--act); color: #fff; border-color: #fff; }
button:disabled { opacity: 0.5; cursor: default; }
:focus-visible { outline: 3px solid #ffb000; outline-offset: 2px; box-shadow: 0 0 0 2px #000; }
.hidden { position: absolute; width: 1px; height: 1px; margin: 0; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@media (max-width: 44rem) {
  main { padding: 0.5rem; }
  .phone, .phone.basic { flex-basis: 100%; }
  .texts { height: 18rem; }
}
`;
