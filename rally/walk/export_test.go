package walk

// What tests name and no program needs to.
const SymbolEnds = symbolEnds
const SymbolStart = symbolStart
