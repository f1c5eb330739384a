/**
 * Keeps a failure of the 3D scene inside the picture: the rest of the page carries on, and the store is told.
 */
import { Component, type ErrorInfo, type ReactNode } from 'react';
import { NotSent } from '../later.ts';

interface Props {
  readonly onFailed: (isNotSent: boolean) => void;
  readonly children: ReactNode;
}

export class PictureBoundary extends Component<Props, { readonly hasFailed: boolean }> {
  override state = { hasFailed: false };

  static getDerivedStateFromError(): { readonly hasFailed: boolean } {
    return { hasFailed: true };
  }

  override componentDidCatch(error: Error, info: ErrorInfo): void {
    const isNotSent = error instanceof NotSent;
    if (!isNotSent) console.warn('picture: the 3D scene failed', error.message, info.componentStack);
    this.props.onFailed(isNotSent);
  }

  override render(): ReactNode {
    return this.state.hasFailed ? null : this.props.children;
  }
}
