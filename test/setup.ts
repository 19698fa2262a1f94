import fc from 'fast-check';

// A run can be repeated: the same inputs each time, unless a seed is given to look further.
const seed = Number(process.env['PROPERTY_SEED'] ?? '20261125');
fc.configureGlobal({ seed });
