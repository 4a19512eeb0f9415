import type { Bridge, StoredStandard } from '../../electron/contract.ts';
import { EXAMPLE_STANDARD, type Standard } from '../../machines/standard/standard.ts';
import { FileShelf } from './file-shelf.ts';

/** The example's id; no file can have it. */
export const EXAMPLE_ID = '';

/** The standards there are: the example, and the courses' own, which the host keeps. */
export class StandardShelf extends FileShelf<StoredStandard, Standard> {
  constructor(bridge: Pick<Bridge, 'listStandards' | 'saveStandard' | 'removeStandard'>) {
    super({
      list: () => bridge.listStandards(),
      save: (fileName, standard) => bridge.saveStandard(fileName, standard),
      remove: (fileName) => bridge.removeStandard(fileName),
    });
  }

  /** The courses' own first: the example is for a station that has none. */
  get all(): readonly { id: string; standard: Standard }[] {
    const own = this.stored.flatMap(({ fileName, standard }) =>
      standard === null ? [] : [{ id: fileName, standard }],
    );
    return [...own, { id: EXAMPLE_ID, standard: EXAMPLE_STANDARD }];
  }
}
