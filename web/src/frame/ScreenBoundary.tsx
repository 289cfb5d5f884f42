// A screen that could not be fetched, or broke, leaves the frame standing and says so; another address is tried anew.
import { Button } from '@mantine/core';
import { Component, type ReactNode } from 'react';

type Props = { address: string; children: ReactNode };
type State = { isBroken: boolean; address: string };

export class ScreenBoundary extends Component<Props, State> {
  override state: State = { isBroken: false, address: this.props.address };

  static getDerivedStateFromError() {
    return { isBroken: true };
  }

  static getDerivedStateFromProps({ address }: Props, state: State): State | null {
    return address === state.address ? null : { isBroken: false, address };
  }

  override render() {
    if (!this.state.isBroken) return this.props.children;
    return (
      <div role="alert">
        <h1>This screen is not there</h1>
        <p>
          It could not be fetched, or something in it broke. What was kept before is safe; loading it again
          often helps.
        </p>
        <Button onClick={() => window.location.reload()}>Load it again</Button>
      </div>
    );
  }
}
