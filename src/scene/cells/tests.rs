//! Canvas tests.
