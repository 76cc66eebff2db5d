// dependency-cruiser reads $lib from here: with tsConfig alone it left the alias unresolved and passed everything.
// It is run from the top of the tree, so that no import is needed.
module.exports = { resolve: { alias: { $lib: `${process.cwd()}/src/lib`, $procedures: `${process.cwd()}/procedures` } } };
