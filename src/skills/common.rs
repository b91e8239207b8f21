//! What several skills share: wording and small sums.
