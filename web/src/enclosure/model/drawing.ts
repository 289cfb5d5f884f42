// How the model is drawn. A graphics card draws it in a millisecond or two; where there is none the processor does, in
// tens of milliseconds, nearly all of it by the pixel. There the edges are smoothed only while nothing moves: by drawing
// more pixels than are shown, instead of several samples for each in every frame.
import type { CanvasProps } from '@react-three/fiber';

const processors = /swiftshader|llvmpipe|softpipe|software|basic render/i;

function isDrawnByProcessor(): boolean {
  const gl = document.createElement('canvas').getContext('webgl2');
  if (!gl) return false;
  const info = gl.getExtension('WEBGL_debug_renderer_info');
  const name = String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER));
  gl.getExtension('WEBGL_lose_context')?.loseContext();
  return processors.test(name);
}

export const isByProcessor = isDrawnByProcessor();

// So long after the last movement a hand rests: then all pixels are drawn, and all that stands beside the model. Where
// frames are slow, so are the events that come between them.
export const rest_ms = isByProcessor ? 400 : 120;

const byCard = { dpr: [1, 2], performance: { min: 1 } } satisfies Partial<CanvasProps>;
const byProcessor = {
  dpr: 1.5,
  performance: { min: 0.5, debounce: rest_ms },
  gl: { antialias: false },
} satisfies Partial<CanvasProps>;

export const drawing: Partial<CanvasProps> = isByProcessor ? byProcessor : byCard;
