/**
 * Keeps a fault where it is: what fails inside says so in its own place, may be tried again, and leaves the rest of the
 * page at work.
 */
import { Component, type ReactNode } from 'react';
import { forgetFailures, NotSent } from '../later.ts';

interface Props {
  readonly children: ReactNode;
  /** A way out, where the place takes the whole page. */
  readonly onLeave?: () => void;
  /** What the words of the fault stand in. */
  readonly frame?: (fault: ReactNode) => ReactNode;
}

interface State {
  readonly fault: { readonly error: unknown } | undefined;
}

export class PlaceBoundary extends Component<Props, State> {
  override state: State = { fault: undefined };

  static getDerivedStateFromError(error: unknown): State {
    return { fault: { error } };
  }

  override componentWillUnmount(): void {
    forgetFailures();
  }

  override render(): ReactNode {
    const { fault } = this.state;
    const { children, onLeave, frame } = this.props;
    if (!fault) return children;
    const again = (): void => {
      forgetFailures();
      this.setState({ fault: undefined });
    };
    const words = (
      <div className="fault stack gap-4 from-start" role="alert">
        <FaultWords error={fault.error} />
        <p className="flow gap-3">
          <button type="button" className="button button-main medium no-wrap" onClick={again}>
            Try again
          </button>
          {onLeave && (
            <button type="button" className="button medium no-wrap" onClick={onLeave}>
              Back to the bike
            </button>
          )}
          <button type="button" className="button medium no-wrap" onClick={() => window.location.reload()}>
            Load the page again
          </button>
        </p>
      </div>
    );
    return frame ? frame(words) : words;
  }
}

function FaultWords({ error }: { readonly error: unknown }): ReactNode {
  if (error instanceof NotSent)
    return (
      <p>
        <strong>The server at {serverName()} did not send this part of the page.</strong> Look whether it runs and the
        network is there, then try again. The rest of the page works.
      </p>
    );
  return (
    <>
      <p>
        <strong>This part of the page has failed, not your model file.</strong> The rest of the page works. If it
        happens again, report these words:
      </p>
      <p className="failure any-break">{error instanceof Error ? error.message : String(error)}</p>
    </>
  );
}

/** Where the page came from, as a person would say it. */
export function serverName(): string {
  return window.location.host || 'this address';
}
