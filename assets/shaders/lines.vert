#version 330 core
// One straight piece of line per instance, spread to a band of pixels with round ends.
uniform mat4 clip_from_place;
uniform bool flat_view;
uniform vec2 viewport;          // px
uniform float half_width;       // px, of the core
uniform float casing_width;     // px, of the wider band; may be 0
uniform float toward_eye;       // in depth units times w: how far lines lie before the surface
uniform vec3 eye;
layout(location = 0) in vec3 from_place;
layout(location = 1) in vec3 to_place;
layout(location = 2) in vec2 from_chart;
layout(location = 3) in vec2 to_chart;
layout(location = 4) in float along;   // m along the line at `from`
layout(location = 5) in vec3 facing;   // toward the painter
noperspective out vec2 v_local;
flat out float v_length;
out float v_along;
void main() {
  vec4 a = flat_view ? clip_from_place * vec4(from_chart, 0.0, 1.0) : clip_from_place * vec4(from_place, 1.0);
  vec4 b = flat_view ? clip_from_place * vec4(to_chart, 0.0, 1.0) : clip_from_place * vec4(to_place, 1.0);
  const float kNear = 1e-4;
  bool hidden = !flat_view && dot(facing, eye - from_place) < 0.0;  // seen from behind the wall
  if (hidden || (a.w < kNear && b.w < kNear)) {
    gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    v_local = vec2(0.0);
    v_length = v_along = 0.0;
    return;
  }
  if (a.w < kNear) a = mix(a, b, (kNear - a.w) / (b.w - a.w));
  if (b.w < kNear) b = mix(b, a, (kNear - b.w) / (a.w - b.w));
  vec2 pa = (a.xy / a.w * 0.5 + 0.5) * viewport;
  vec2 pb = (b.xy / b.w * 0.5 + 0.5) * viewport;
  vec2 d = pb - pa;
  float len = length(d);
  d = len > 1e-6 ? d / len : vec2(1.0, 0.0);
  vec2 side = vec2(-d.y, d.x);
  float end = (gl_VertexID & 1) == 0 ? 0.0 : 1.0;
  float edge = (gl_VertexID & 2) == 0 ? -1.0 : 1.0;
  float reach = max(half_width, casing_width) + 1.0;
  vec2 p = mix(pa, pb, end) + d * reach * (end * 2.0 - 1.0) + side * reach * edge;
  vec4 c = end < 0.5 ? a : b;
  float t = end + (end * 2.0 - 1.0) * min(reach / max(len, 1e-6), 1.0);  // depth goes on beyond the ends as along it
  float z = mix(a.z / a.w, b.z / b.w, t) - (flat_view ? 0.0 : toward_eye / c.w);
  v_local = vec2(len * end + reach * (end * 2.0 - 1.0), reach * edge);
  v_length = len;
  v_along = along + distance(from_chart, to_chart) * end;
  gl_Position = vec4((p / viewport * 2.0 - 1.0) * c.w, z * c.w, c.w);
}
