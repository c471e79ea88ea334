"""What recorded rides say of gears: which were ridden, where they ran out, what others would have done."""
