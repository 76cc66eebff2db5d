// dependency-cruiser reads $lib from here: with tsConfig alone it left the alias unresolved and passed everything
const { resolve } = require('node:path');
module.exports = { resolve: { alias: { $lib: resolve('src/lib'), $procedures: resolve('procedures') } } };
