import type { ReactElement, ReactNode } from 'react';

type FoldedProps = { title: string; id?: string; children: ReactNode };

/** A part that is there when it is wanted: its title stands alone until it is opened. */
export function Folded({ title, id, children }: FoldedProps): ReactElement {
  return (
    <details id={id}>
      <summary>{title}</summary>
      {children}
    </details>
  );
}
