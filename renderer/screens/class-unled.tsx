import { type ReactElement, useEffect, useState } from 'react';
import type { ClassFile } from '../../machines/class/class-file.ts';
import { notYetUnled } from '../../machines/class/unled.ts';
import { notYetUnledWords } from '../../machines/words/class-words.ts';
import { UNLED_WORDS } from '../../machines/words/screen-class.ts';
import type { UnledKnown, UnledSource } from '../app/unled-today.ts';

type ClassUnledProps = { people: ClassFile['people']; read: UnledSource };

/** Who has not yet compressed unled today, and from what that is known. */
export function ClassUnled({ people, read }: ClassUnledProps): ReactElement {
  const known = useUnled(people, read);
  return (
    <section aria-labelledby="class-unled">
      <h2 id="class-unled">{UNLED_WORDS.title}</h2>
      <div role="status">{known === null ? null : <Known known={known} people={people} />}</div>
      <p className="note">{UNLED_WORDS.known}</p>
    </section>
  );
}

function Known({ known, people }: { known: UnledKnown; people: ClassFile['people'] }): ReactElement {
  if (known.problem !== null) return <p>{UNLED_WORDS.notListed(known.problem)}</p>;
  // Who is named before all is read might be named wrongly.
  if (known.read < known.drills) return <p>{UNLED_WORDS.reading(known.read, known.drills)}</p>;
  const here = people.filter(({ isHere }) => isHere).map(({ name }) => name);
  const notYet = notYetUnled(here, known.facts);
  return (
    <>
      <p>{notYet.length === 0 ? UNLED_WORDS.none : `${notYet.map(notYetUnledWords).join(', ')}.`}</p>
      {known.unread === 0 ? null : <p>{UNLED_WORDS.unread(known.unread)}</p>}
    </>
  );
}

/** Read anew when a name comes or goes, not when somebody is out for a while; null: not asked yet. */
function useUnled(people: ClassFile['people'], read: UnledSource): UnledKnown | null {
  const [known, setKnown] = useState<UnledKnown | null>(null);
  const names = people.map(({ name }) => name).join('\n');
  useEffect(() => {
    let isWanted = true;
    void read(names.split('\n'), setKnown, () => isWanted);
    return () => {
      isWanted = false;
    };
  }, [names, read]);
  return known;
}
