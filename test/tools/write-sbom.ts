import { makeSbom } from './sbom.ts';

// npm run --silent sbom > hopgauge-0.1.0.cdx.json
process.stdout.write(await makeSbom());
