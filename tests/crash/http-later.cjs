/** Stands for node:http in a start-up snapshot, which cannot hold it: loaded when the process first uses it. */
const load = () => require('node:module').createRequire(`${process.env.CRASH_ROOT}/package.json`)('node:http');

module.exports = {
  createServer: (...given) => load().createServer(...given),
  request: (...given) => load().request(...given),
};
