/** Style of the phone bench: works from 360 px upward, keyboard focus always visible. */
export const pageStyle = `
:root { --ink: #1c2a2b; --paper: #f3efe6; --case: #2f4a4b; --screen: #dfe6d2; --mine: #fff8dd; --line: #b9b29f; --act: #7a3b12; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.4 system-ui, sans-serif; }
header { padding: 0.75rem 1rem; border-bottom: 2px solid var(--line); }
h1 { margin: 0; font-size: 1.25rem; }
.about { margin: 0.25rem 0 0.5rem; max-width: 60rem; }
#clock { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: center; }
#now { font-variant-numeric: tabular-nums; font-weight: 700; min-width: 12rem; }
#minutes { width: 6rem; }
#note { min-height: 1.4em; margin: 0.25rem 0 0; color: var(--act); font-weight: 600; }
main { display: grid; grid-template-columns: repeat(auto-fit, minmax(18rem, 1fr)); gap: 1rem; padding: 1rem; max-width: 84rem; margin: 0 auto; }
.phone { background: var(--case); color: #fff; padding: 0.75rem; border-radius: 0.75rem; display: flex; flex-direction: column; gap: 0.5rem; min-width: 0; }
.top { display: flex; justify-content: space-between; gap: 0.5rem; flex-wrap: wrap; }
select, input, textarea, button { font: inherit; color: var(--ink); border: 1px solid var(--line); border-radius: 0.3rem; padding: 0.3rem 0.5rem; }
select { max-width: 14rem; }
.texts { list-style: none; margin: 0; padding: 0.5rem; background: var(--screen); color: var(--ink); border-radius: 0.3rem; height: 22rem; overflow-y: auto; font: 15px/1.35 ui-monospace, monospace; }
.texts li { margin: 0 0 0.6rem; padding: 0.3rem 0.4rem; white-space: pre-wrap; overflow-wrap: anywhere; border-left: 4px solid var(--case); }
.texts li.mine { background: var(--mine); border-left-color: var(--act); }
.texts small { display: block; font-size: 12px; color: #3c4a3c; }
textarea { width: 100%; resize: vertical; font-family: ui-monospace, monospace; }
.row { display: flex; gap: 0.5rem; align-items: center; justify-content: flex-end; }
.count { margin-right: auto; font-size: 0.85rem; }
.quick { display: flex; flex-wrap: wrap; gap: 0.3rem; }
.quick:empty { display: none; }
.pad { display: grid; grid-template-columns: repeat(3, 1fr); gap: 0.3rem; }
.pad:empty { display: none; }
.pad button { min-height: 2.75rem; font-size: 1.1rem; }
button { background: #fff; cursor: pointer; min-height: 2.25rem; }
button[type='submit'] { background: var(--act); color: #fff; border-color: var(--act); }
button:disabled { opacity: 0.5; cursor: default; }
:focus-visible { outline: 3px solid #d98c00; outline-offset: 2px; }
.hidden { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
@media (max-width: 30rem) { main { padding: 0.5rem; } .texts { height: 16rem; } }
`;
