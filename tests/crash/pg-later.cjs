/** Stands for the pg driver in a start-up snapshot: loaded when the process first opens a database of a server. */
const load = () => require('node:module').createRequire(`${process.env.CRASH_ROOT}/package.json`)('pg');

module.exports = {
  get Pool() {
    return load().Pool;
  },
  get types() {
    return load().types;
  },
};
