//! Problems: question, answer, mix-ups, verdict, code, generator.
