"""Will each click land the chain on its sprocket: cable, derailleur and spacing against each other."""
