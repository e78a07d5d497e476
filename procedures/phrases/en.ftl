# How this library words the writing of its states.
set-jib-tethered = Tether the jib
set-jib-free = Free the jib
set-supply-isolated = Open the isolator
set-supply-live = Close the isolator
set-hook-landed = Lower the hook block until the rope is slack
set-hook-raised = Raise the hook block
set-area-barred = Bar the area
set-area-open = Open the area again
