import occtUrl from 'occt-import-js/dist/occt-import-js.wasm?url';
import { placeModelReader } from '../../job/meshfile/model.ts';

/** Says where the machine code of the reader of STEP and IGES lies: a file of its own beside the app, which may be replaced. */
export const findModelReader = (): void => placeModelReader(occtUrl);
