//! What the program believes of a learner, and which problem comes next.
