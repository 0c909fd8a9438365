/**
 * Stands for better-sqlite3 in a start-up snapshot, which cannot hold compiled code: the driver is loaded when the
 * process made from the snapshot opens its first database.
 */
let driver = null;

function load() {
  driver ??= require('node:module').createRequire(`${process.env.CRASH_ROOT}/package.json`)('better-sqlite3');
  return driver;
}

module.exports = new Proxy(function later() {}, {
  construct: (_target, given) => Reflect.construct(load(), given),
  get: (_target, name) => (name === '__esModule' ? undefined : load()[name]),
});
