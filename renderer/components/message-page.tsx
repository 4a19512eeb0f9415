import type { ReactElement } from 'react';

/** A page of a few words, for when there is nothing else to show. */
export function MessagePage({ title, text }: { title: string; text: string }): ReactElement {
  return (
    <main className="message-page">
      <h1>{title}</h1>
      <p>{text}</p>
    </main>
  );
}
