//! LN701: a step is given to somebody who is not in the crew.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Steps for people who are not in the crew: one role, or all of them where no crew is named.
pub(crate) struct NotInCrew {
    /// Each role, with its first step.
    pub(crate) roles: Vec<(String, Span)>,
    pub(crate) crew: Vec<String>,
}

impl Finding for NotInCrew {
    const PAGE: Page = page!("LN701", "ln701_not_in_crew.md");

    fn show(&self, say: &mut Report) {
        let roles: Vec<&str> = self.roles.iter().map(|(role, _)| role.as_str()).collect();
        match roles.as_slice() {
            [role] if !self.crew.is_empty() => {
                let role = role.replace('-', " ");
                say.title(format!("this step is for the {role}, who is not in the crew"));
            }
            _ => {
                let roles = roles.join(" and the ").replace('-', " ");
                say.title(format!("steps are for the {roles}, and no crew is named"));
            }
        }
        for (_, step) in &self.roles {
            say.label(*step, "nobody is there to do it");
        }
        say.consequence(
            "the job stops here until somebody is found, or somebody untrained does it",
        );
        if self.crew.is_empty() {
            say.mend(format!("write `crew {}` at the head of the procedure", roles.join(", ")));
        } else {
            say.mend(format!(
                "give it to one of the crew ({}), or add `{}` to `crew`",
                self.crew.join(", "),
                roles.join(", ")
            ));
        }
    }
}
