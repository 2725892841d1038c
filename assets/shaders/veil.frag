#version 330 core
// A wall seen from behind: a hint of it that hides nothing, nothing to read.
out vec4 colour;
void main() { colour = vec4(0.45, 0.43, 0.40, 0.10); }
