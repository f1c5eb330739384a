/**
 * Keeps a failure of the 3D scene inside the picture: the rest of the page carries on, and the store is told.
 */
import { Component, type ErrorInfo, type ReactNode } from 'react';

interface Props {
  readonly onFailed: () => void;
  readonly children: ReactNode;
}

export class PictureBoundary extends Component<Props, { readonly hasFailed: boolean }> {
  override state = { hasFailed: false };

  static getDerivedStateFromError(): { readonly hasFailed: boolean } {
    return { hasFailed: true };
  }

  override componentDidCatch(error: Error, info: ErrorInfo): void {
    console.warn('picture: the 3D scene failed', error.message, info.componentStack);
    this.props.onFailed();
  }

  override render(): ReactNode {
    return this.state.hasFailed ? null : this.props.children;
  }
}
