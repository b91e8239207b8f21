//! Drawing as data in millimetres, and the canvases that show it.
