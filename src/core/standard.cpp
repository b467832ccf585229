// (written next)
