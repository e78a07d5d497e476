//! What accepts a reading and settles nothing of it: whoever reads something else goes on, too.

use locknut_finding::{Report, Span};

/// Points out the lines that accept it.
pub(crate) fn accepted_in_vain(lines: &[Span], say: &mut Report) {
    for line in lines {
        say.label(*line, "this settles nothing: what is outside of it goes on, too");
    }
}

/// Says what would make them count.
pub(crate) fn nobody_goes_on(lines: &[Span], say: &mut Report) {
    if !lines.is_empty() {
        say.mend("or let nobody go on with what is not accepted: end its “otherwise” with refer to \"…\" or stop \"…\"");
    }
}
