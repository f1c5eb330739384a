/**
 * The last word when the program itself fails: what happened, and that the model file is not to blame.
 */
import { Component, type ReactNode } from 'react';

export class Failure extends Component<{ readonly children: ReactNode }, { readonly message: string | undefined }> {
  override state: { readonly message: string | undefined } = { message: undefined };

  static getDerivedStateFromError(error: unknown): { readonly message: string } {
    return { message: error instanceof Error ? error.message : String(error) };
  }

  override render(): ReactNode {
    const { message } = this.state;
    if (message === undefined) return this.props.children;
    return (
      <main className="failure-page stack gap-5 from-start">
        <h1>Axlewright has stopped</h1>
        <p>The program failed, not your model file. Load the page again; if it happens again, report these words:</p>
        <p className="failure any-break">{message}</p>
        <button type="button" className="button button-main medium no-wrap" onClick={() => window.location.reload()}>
          Load the page again
        </button>
      </main>
    );
  }
}
